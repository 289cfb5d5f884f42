// Where a value lies, as the engine says it (src/husbandry/zone.h): the low and the high end are the outer fifths of
// the band on a logarithmic axis; a band that starts at zero has no low end and its axis starts at the meter's floor.
import type { Pair, State } from '../api/schema';

export const meterFloor_uvi = 0.05;
export const retreat_uvi = 0.2; // most a retreat has (src/husbandry/verdict.h)

export type Band = { low: number; high: number; ceiling: number };

// Highest UVI sought, by zone (Ferguson et al. 2010, from memory); zone 1 by common practice, no source.
const highestSought: readonly Pair[] = [
  [0, 0.7],
  [1.1, 3.0],
  [2.9, 7.4],
  [4.5, 9.5],
];

export function bandOf(zones: readonly number[]): Band | null {
  const first = highestSought[Math.min(...zones) - 1];
  const last = highestSought[Math.max(...zones) - 1];
  return first && last ? { low: first[0], high: first[1], ceiling: last[1] } : null;
}

// A band somebody set: its top is its ceiling.
export const bandBetween = ([low, high]: Pair): Band => ({ low, high, ceiling: high });

export function stateOf(uvi: number, band: Band): State {
  if (uvi < band.low) return 'below';
  if (uvi > band.high) return 'above';
  const start = Math.max(band.low, meterFloor_uvi);
  if (start >= band.high) return 'in'; // a band too narrow or too faint to have ends
  const fifth = (band.high / start) ** 0.2;
  if (band.low > 0 && uvi < start * fifth) return 'low';
  if (uvi > band.high / fifth) return 'high';
  return 'in';
}

// Temperatures have no ends: what is in the range is in it.
export function warmthStateOf(degC: number, [low, high]: Pair): State {
  return degC < low ? 'below' : degC > high ? 'above' : 'in';
}
