// What a survey can read, in the words of the meter's face.
export const readQuantities = ['uvi', 'temperature', 'lux'] as const;
export type ReadQuantity = (typeof readQuantities)[number];

export const quantityOf = (name: string): ReadQuantity => readQuantities.find((q) => q === name) ?? 'uvi';

export const readWords: Record<ReadQuantity, { name: string; most: number; doubt: string }> = {
  uvi: { name: 'UVI', most: 20, doubt: 'No sun reaches this: is a point missing?' },
  temperature: { name: 'Temperature', most: 80, doubt: 'No surface should be this hot: is it right?' },
  lux: { name: 'Lux', most: 150_000, doubt: 'More than the sun: is it right?' },
};
