// Lengths are centimetres and temperatures degrees Celsius in documents, and what the person chose on the screen.
// Chosen in frame/ownSettings.ts; here what is kept on this device.
import { useLocalStorage } from '@mantine/hooks';

export const lengthUnits = ['cm', 'in'] as const;
export type LengthUnit = (typeof lengthUnits)[number];
export const temperatureUnits = ['c', 'f'] as const;
export type TemperatureUnit = (typeof temperatureUnits)[number];
export const temperatureWords: Record<TemperatureUnit, string> = { c: '°C', f: '°F' };

const cmPerInch = 2.54;

export const fromCm = (cm: number, unit: LengthUnit): number => (unit === 'cm' ? cm : cm / cmPerInch);
export const toCm = (length: number, unit: LengthUnit): number =>
  unit === 'cm' ? length : length * cmPerInch;

export const fromCelsius = (celsius: number, unit: TemperatureUnit): number =>
  unit === 'c' ? celsius : celsius * 1.8 + 32;
export const toCelsius = (degrees: number, unit: TemperatureUnit): number =>
  unit === 'c' ? degrees : (degrees - 32) / 1.8;

const lengthText = (cm: number, unit: LengthUnit) => Number(fromCm(cm, unit).toFixed(unit === 'cm' ? 0 : 1));

export function showLength(cm: number, unit: LengthUnit): string {
  return `${lengthText(cm, unit)} ${unit}`;
}

export function showSize(size: readonly [number, number, number], unit: LengthUnit): string {
  const [x, y, z] = size.map((cm) => lengthText(cm, unit));
  return `${x} × ${y} × ${z} ${unit}`;
}

// Whole degrees: no reptile is kept to a tenth of one, and no model is that good.
export function showTemperature(celsius: number, unit: TemperatureUnit): string {
  return `${Math.round(fromCelsius(celsius, unit))} ${temperatureWords[unit]}`;
}

export function showTemperatures(range: readonly [number, number], unit: TemperatureUnit): string {
  const [low, high] = range.map((celsius) => Math.round(fromCelsius(celsius, unit)));
  return low === high ? `${low} ${temperatureWords[unit]}` : `${low}–${high} ${temperatureWords[unit]}`;
}

export function useLengthUnit() {
  return useLocalStorage<LengthUnit>({
    key: 'dapple-length',
    defaultValue: 'cm',
    getInitialValueInEffect: false,
  });
}

export function useTemperatureUnit() {
  return useLocalStorage<TemperatureUnit>({
    key: 'dapple-temperature',
    defaultValue: 'c',
    getInitialValueInEffect: false,
  });
}
