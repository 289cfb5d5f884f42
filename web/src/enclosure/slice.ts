// A slice through an enclosure: which plane, which grid the server is asked for, and values read from it.
import type { Field } from '../api/client';
import type { Grid, Vec3 } from '../api/schema';

export type Cut = 'level' | 'lengthwise' | 'crosswise';
export const cutWords: Record<Cut, string> = {
  level: 'Level',
  lengthwise: 'Lengthwise',
  crosswise: 'Crosswise',
};

// The axis a cut stands across, and the two it spreads along.
const axes = { level: [2, 0, 1], lengthwise: [1, 0, 2], crosswise: [0, 1, 2] } as const;
export const axesOf = (cut: Cut) => axes[cut];

// Between the points; coarse: while something moves and the next answer comes before this one is looked at closely.
const spacing_cm = { fine: 1.5, coarse: 3 };
const mostAlongAxis = { fine: 81, coarse: 41 };
export type Grain = keyof typeof spacing_cm;
const offWall_cm = 0.1; // a receiver cannot stand in the wall itself

export function gridOf(cut: Cut, at_cm: number, size: Vec3, grain: Grain = 'fine'): Grid {
  const [across, first, second] = axesOf(cut);
  const min: [number, number, number] = [offWall_cm, offWall_cm, offWall_cm];
  const max: [number, number, number] = [size[0] - offWall_cm, size[1] - offWall_cm, size[2] - offWall_cm];
  const place = Math.min(max[across], Math.max(min[across], at_cm));
  min[across] = place;
  max[across] = place;
  const counts: [number, number, number] = [1, 1, 1];
  for (const axis of [first, second]) {
    counts[axis] = Math.min(
      mostAlongAxis[grain],
      Math.max(2, Math.round(size[axis] / spacing_cm[grain]) + 1),
    );
  }
  return { min_cm: min, max_cm: max, counts };
}

// Across which axis the server cut.
export const cutOf = (counts: Grid['counts']): Cut =>
  counts[0] === 1 ? 'crosswise' : counts[1] === 1 ? 'lengthwise' : 'level';

// Columns and rows of a slice's values.
export function shapeOf(counts: Grid['counts']): [number, number] {
  const [columns, rows] = counts.filter((n) => n > 1);
  return [columns ?? 1, rows ?? 1];
}

// The value at a fraction along both axes of a slice, between its neighbours.
export function valueAt(field: Field, u: number, v: number): number {
  const [columns, rows] = shapeOf(field.header.counts);
  const cell = (fraction: number, n: number) => {
    const place = Math.min(1, Math.max(0, fraction)) * (n - 1);
    const low = Math.min(n - 2, Math.floor(place));
    return { low, part: place - low };
  };
  const x = cell(u, columns);
  const y = cell(v, rows);
  const at = (i: number, j: number) => field.values[j * columns + i] ?? 0;
  const row = (j: number) => at(x.low, j) * (1 - x.part) + at(x.low + 1, j) * x.part;
  return row(y.low) * (1 - y.part) + row(y.low + 1) * y.part;
}
