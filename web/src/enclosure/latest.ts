// The readings of the record beside the model: at each spot the median of its last day, as the server counts a round.
import type { Reading } from '../api/schema';

export type Latest = { value: number; count: number; day: string };

export function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const [low, high] = [sorted[Math.ceil(sorted.length / 2) - 1], sorted[Math.floor(sorted.length / 2)]];
  return ((low ?? NaN) + (high ?? NaN)) / 2;
}

const dayOf = (reading: Reading) => reading.taken_at.slice(0, 10);

export function latestAt(readings: readonly Reading[], quantity: Reading['quantity']): Map<string, Latest> {
  const bySpot = new Map<string, Reading[]>();
  for (const reading of readings) {
    if (reading.spot === undefined || reading.quantity !== quantity || reading.retired_at !== null) continue;
    bySpot.set(reading.spot, [...(bySpot.get(reading.spot) ?? []), reading]);
  }
  return new Map(
    [...bySpot].map(([spot, all]) => {
      const day = all.map(dayOf).sort().at(-1) ?? '';
      const values = all.filter((reading) => dayOf(reading) === day).map(({ value }) => value);
      return [spot, { value: medianOf(values), count: values.length, day }];
    }),
  );
}

// Whether a reading speaks against what is predicted. A hand-held meter shows tenths and is good to about a tenth of its
// value (common practice, no source), so what lies that close to the interval lies in it.
export function isOutside(value: number, [low, high]: readonly [number, number]): boolean {
  return value < 0.9 * low - 0.05 || value > 1.1 * high + 0.05;
}
