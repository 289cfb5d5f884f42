// The public's UV index for outdoor sun: categories and colours of the WHO guide (Global Solar UV Index: a practical
// guide, 2002; its Pantone colours 375, 102, 151, 032 and 265 in sRGB, from memory). For the open sky only, never for lamps.
export const categories = [
  { from: 0, name: 'low', colour: '#97d700', ink: '#15221f' },
  { from: 3, name: 'moderate', colour: '#fce300', ink: '#15221f' },
  { from: 6, name: 'high', colour: '#ff8200', ink: '#15221f' },
  { from: 8, name: 'very high', colour: '#ef3340', ink: '#000000' },
  { from: 11, name: 'extreme', colour: '#9063cd', ink: '#000000' },
] as const;

export type Category = (typeof categories)[number];

// The guide gives the index as a whole number.
export function categoryOf(uvi: number): Category {
  const whole = Math.round(uvi);
  return [...categories].reverse().find(({ from }) => whole >= from) ?? categories[0];
}
