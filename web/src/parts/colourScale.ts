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
function partsOf(css: string): number[] {
  return css.startsWith('#')
    ? [1, 3, 5].map((at) => parseInt(css.slice(at, at + 2), 16))
    : (css.match(/\d+/g) ?? []).map(Number);
}
const table = Uint8Array.from(
  Array.from({ length: shades }, (_, i) => [...partsOf(interpolateViridis(i / (shades - 1))), 255]).flat(),
);

// Red, green, blue and opacity for every value of a field.
export function paint(
  values: Float32Array,
  scale: Scale,
  pixels: Uint8Array = new Uint8Array(4 * values.length),
): Uint8Array {
  for (let i = 0; i < values.length; ++i) {
    const shade = 4 * Math.round(placeOnScale(scale, values[i] ?? 0) * (shades - 1));
    for (let part = 0; part < 4; ++part) pixels[4 * i + part] = table[shade + part] ?? 0;
  }
  return pixels;
}

export const gradient = `linear-gradient(to right, ${Array.from({ length: 17 }, (_, i) => colourAt(i / 16)).join(', ')})`;
