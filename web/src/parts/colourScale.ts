// The one colour scale: viridis (van der Walt & Smith 2015), perceptually uniform and readable with any colour
// vision. UVI always has the axis of the range strips, so that a colour means the same value everywhere.
import { interpolateViridis } from 'd3-scale-chromatic';
import type { Quantity } from '../api/schema';
import { axisHigh, axisLow, axisTicks } from './rangeAxis';

export type Scale = { low: number; high: number; ticks: readonly number[] };

const decades = 3;

// The next 1, 2 or 5 times a power of ten.
export function roundUp(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const step = [1, 2, 5, 10].find((s) => s * power >= value * (1 - 1e-9)) ?? 10;
  return step * power;
}

export function scaleFor(quantity: Quantity, most: number): Scale {
  if (quantity === 'uvi') return { low: axisLow, high: axisHigh, ticks: axisTicks };
  const high = roundUp(Math.max(most, 1e-6));
  return { low: high / 10 ** decades, high, ticks: [high / 1000, high / 100, high / 10, high] };
}

// 0..1 along the scale, logarithmic.
export function placeOnScale(scale: Scale, value: number): number {
  if (!(value > scale.low)) return 0;
  return Math.min(1, Math.log(value / scale.low) / Math.log(scale.high / scale.low));
}

export const colourAt = (place: number): string => interpolateViridis(place);

const shades = 256;
const table: readonly (readonly [number, number, number])[] = Array.from({ length: shades }, (_, i) => {
  const css = interpolateViridis(i / (shades - 1));
  const parts = css.startsWith('#')
    ? [1, 3, 5].map((at) => parseInt(css.slice(at, at + 2), 16))
    : (css.match(/\d+/g) ?? []).map(Number);
  return [parts[0] ?? 0, parts[1] ?? 0, parts[2] ?? 0] as const;
});

// Red, green, blue and opacity for every value of a field.
export function paint(values: Float32Array, scale: Scale): Uint8Array {
  const pixels = new Uint8Array(4 * values.length);
  values.forEach((value, i) => {
    const shade = table[Math.round(placeOnScale(scale, value) * (shades - 1))] ?? table[0];
    if (shade) pixels.set([shade[0], shade[1], shade[2], 255], 4 * i);
  });
  return pixels;
}

export const gradient = `linear-gradient(to right, ${Array.from({ length: 17 }, (_, i) => colourAt(i / 16)).join(', ')})`;
