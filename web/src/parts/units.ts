// Lengths are centimetres in documents and what the person chose on the screen.
import { useLocalStorage } from '@mantine/hooks';

export type LengthUnit = 'cm' | 'in';
const cmPerInch = 2.54;

export const fromCm = (cm: number, unit: LengthUnit): number => (unit === 'cm' ? cm : cm / cmPerInch);
export const toCm = (length: number, unit: LengthUnit): number =>
  unit === 'cm' ? length : length * cmPerInch;

export function showLength(cm: number, unit: LengthUnit): string {
  const length = fromCm(cm, unit);
  const digits = unit === 'cm' ? 0 : 1;
  return `${Number(length.toFixed(digits))} ${unit}`;
}

export function showSize(size: readonly [number, number, number], unit: LengthUnit): string {
  const [x, y, z] = size.map((cm) => Number(fromCm(cm, unit).toFixed(unit === 'cm' ? 0 : 1)));
  return `${x} × ${y} × ${z} ${unit}`;
}

export function useLengthUnit() {
  return useLocalStorage<LengthUnit>({
    key: 'dapple-length',
    defaultValue: 'cm',
    getInitialValueInEffect: false,
  });
}
