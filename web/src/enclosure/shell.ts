// The surface in space on which a field has one value, by marching tetrahedra: each cell of the grid is cut into six
// tetrahedra around its main diagonal (Kuhn's division), so that neighbours agree on their common faces.
import type { Field } from '../api/client';
import type { Grid, Vec3 } from '../api/schema';

const longest = 27; // points along the longest side

// A coarse grid through the whole box.
export function coarseGrid(size: Vec3): Grid {
  const step = Math.max(...size) / (longest - 1);
  const count = (length: number) => Math.max(2, Math.round(length / step) + 1);
  const off = 0.1; // a receiver cannot stand in the wall itself
  return {
    min_cm: [off, off, off],
    max_cm: [size[0] - off, size[1] - off, size[2] - off],
    counts: [count(size[0]), count(size[1]), count(size[2])],
  };
}

// Corners of a cell as bits: 1 x, 2 y, 4 z. Each tetrahedron walks from corner 0 to corner 7 along three edges.
const tetrahedra = [
  [0, 1, 3, 7],
  [0, 3, 2, 7],
  [0, 2, 6, 7],
  [0, 6, 4, 7],
  [0, 4, 5, 7],
  [0, 5, 1, 7],
] as const;

type Corner = { place: Vec3; value: number };

// Where the value lies between two corners, linearly.
function between(a: Corner, b: Corner, level: number): Vec3 {
  const part = (level - a.value) / (b.value - a.value);
  const at = (axis: 0 | 1 | 2) => a.place[axis] + part * (b.place[axis] - a.place[axis]);
  return [at(0), at(1), at(2)];
}

function cut(corners: readonly Corner[], level: number, out: number[]): void {
  const inside = corners.filter(({ value }) => value >= level);
  const outside = corners.filter(({ value }) => value < level);
  if (inside.length === 0 || outside.length === 0) return;
  const points = inside.flatMap((a) => outside.map((b) => between(a, b, level)));
  const emit = (...which: number[]) => which.forEach((i) => out.push(...(points[i] ?? [0, 0, 0])));
  if (points.length === 3) emit(0, 1, 2);
  else emit(0, 1, 3, 0, 3, 2); // two in, two out: a quadrilateral 0-1-3-2
}

// Corners of triangles in cm, nine numbers each.
export function shellOf({ header, values }: Field, level: number): Float32Array {
  const [nx, ny, nz] = header.counts;
  const { min_cm: min, max_cm: max } = header;
  const along = (axis: 0 | 1 | 2, i: number, n: number) =>
    min[axis] + (i / (n - 1)) * (max[axis] - min[axis]);
  const corner = (i: number, j: number, k: number): Corner => ({
    place: [along(0, i, nx), along(1, j, ny), along(2, k, nz)],
    value: values[(k * ny + j) * nx + i] ?? 0,
  });
  const out: number[] = [];
  for (let k = 0; k < nz - 1; ++k)
    for (let j = 0; j < ny - 1; ++j)
      for (let i = 0; i < nx - 1; ++i) {
        const cell = Array.from({ length: 8 }, (_, bits) =>
          corner(i + (bits & 1), j + ((bits >> 1) & 1), k + (bits >> 2)),
        );
        if (cell.every(({ value }) => value >= level) || cell.every(({ value }) => value < level)) continue;
        for (const four of tetrahedra) {
          cut(
            four.map((at) => cell[at]).filter((one) => one !== undefined),
            level,
            out,
          );
        }
      }
  return new Float32Array(out);
}
