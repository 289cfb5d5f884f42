// The one UVI axis of the whole application: logarithmic, from the floor of a hand-held meter to above any sun.
export const axisLow = 0.05;
export const axisHigh = 20;
export const axisTicks = [0.1, 0.2, 0.5, 1, 2, 5, 10] as const;

// 0 at the left end of the axis, 1 at the right; what lies outside stands at its end.
export function placeOnAxis(uvi: number): number {
  if (!(uvi > axisLow)) return 0;
  return Math.min(1, Math.log(uvi / axisLow) / Math.log(axisHigh / axisLow));
}

export type Span = { from: number; to: number };

// The band on the axis, and its middle three fifths: the outer fifths are the low and the high end. A band that
// starts at zero has no low end.
export function bandOnAxis(band: readonly [number, number]): { whole: Span; middle: Span } {
  const whole = { from: placeOnAxis(band[0]), to: placeOnAxis(band[1]) };
  const fifth = (whole.to - whole.from) / 5;
  const hasLowEnd = band[0] > 0;
  return { whole, middle: { from: whole.from + (hasLowEnd ? fifth : 0), to: whole.to - fifth } };
}
