import { describe, expect, it } from 'vitest';
import type { Field } from '../api/client';
import { coarseGrid, shellOf } from './shell';

function fieldOf(n: number, value: (x: number, y: number, z: number) => number): Field {
  const values = new Float32Array(n ** 3);
  const at = (i: number) => (20 * i) / (n - 1) - 10;
  for (let k = 0; k < n; ++k)
    for (let j = 0; j < n; ++j)
      for (let i = 0; i < n; ++i) values[(k * n + j) * n + i] = value(at(i), at(j), at(k));
  const header = {
    quantity: 'uvi',
    facing: 'aimed',
    counts: [n, n, n],
    min_cm: [-10, -10, -10],
    max_cm: [10, 10, 10],
    least: 0,
    most: 1,
  } as const;
  return { header, values };
}

function areaOf(shell: Float32Array): number {
  let area = 0;
  for (let t = 0; t < shell.length; t += 9) {
    const [ax, ay, az, bx, by, bz, cx, cy, cz] = shell.slice(t, t + 9) as unknown as number[] & { length: 9 };
    const u = [(bx ?? 0) - (ax ?? 0), (by ?? 0) - (ay ?? 0), (bz ?? 0) - (az ?? 0)] as const;
    const v = [(cx ?? 0) - (ax ?? 0), (cy ?? 0) - (ay ?? 0), (cz ?? 0) - (az ?? 0)] as const;
    area += Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
  }
  return area;
}

describe('a shell', () => {
  it('of a field that falls off from a point is a sphere: 4 pi r^2', () => {
    const radius = 6;
    const shell = shellOf(
      fieldOf(31, (x, y, z) => 10 - Math.hypot(x, y, z)),
      10 - radius,
    );
    let farthest = 0;
    for (let i = 0; i < shell.length; i += 3) {
      const off = Math.hypot(shell[i] ?? 0, shell[i + 1] ?? 0, shell[i + 2] ?? 0) - radius;
      farthest = Math.max(farthest, Math.abs(off));
    }
    expect(farthest).toBeLessThan(0.1); // chords of cells of 0.67 cm lie at most s^2/(8r) inside
    expect(areaOf(shell) / (4 * Math.PI * radius ** 2)).toBeCloseTo(1, 2);
  });

  it('of a field that rises with height is the plane of that height, once', () => {
    const shell = shellOf(
      fieldOf(9, (_x, _y, z) => z),
      3.1,
    );
    for (let i = 2; i < shell.length; i += 3) expect(shell[i]).toBeCloseTo(3.1, 5);
    expect(areaOf(shell)).toBeCloseTo(400, 3);
  });

  it('is nothing where the value is nowhere reached', () => {
    expect(
      shellOf(
        fieldOf(5, () => 1),
        2,
      ),
    ).toHaveLength(0);
  });

  it('is asked for on a grid of cells as long as broad', () => {
    expect(coarseGrid([120, 60, 60]).counts).toEqual([27, 14, 14]);
  });
});
