// What is below a place: the highest surface of furniture, or the floor. Lengths in cm. A piece that is turned is met
// by the same downward ray in the piece's own frame.
import type { Enclosure, Furniture, Vec3 } from '../../api/schema';

type Matrix = readonly [Vec3, Vec3, Vec3];

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const middle = (a: Vec3, b: Vec3): Vec3 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];

// Turned about x, then y, then z, about fixed axes: Rz Ry Rx. Its columns are the piece's own axes.
function axesOf([x, y, z]: Vec3): Matrix {
  const [a, b, c] = [x, y, z].map((deg) => (deg * Math.PI) / 180) as [number, number, number];
  const [sa, ca, sb, cb] = [Math.sin(a), Math.cos(a), Math.sin(b), Math.cos(b)];
  const [sc, cc] = [Math.sin(c), Math.cos(c)];
  return [
    [cc * cb, sc * cb, -sb],
    [cc * sb * sa - sc * ca, sc * sb * sa + cc * ca, cb * sa],
    [cc * sb * ca + sc * sa, sc * sb * ca - cc * sa, cb * ca],
  ];
}

type Ray = { from: Vec3; way: Vec3 };

function ownRay(piece: Furniture, centre: Vec3, x: number, y: number, z: number): Ray {
  const axes = axesOf(piece.turn_deg ?? [0, 0, 0]);
  const offset = minus([x, y, z], centre);
  const own = (v: Vec3): Vec3 => [dot(axes[0], v), dot(axes[1], v), dot(axes[2], v)];
  return { from: own(offset), way: own([0, 0, -1]) };
}

// The first length along the ray at which it enters; null where it misses or starts inside.
function enterBox({ from, way }: Ray, half: Vec3): number | null {
  let [enter, leave] = [-Infinity, Infinity];
  for (const axis of [0, 1, 2] as const) {
    if (Math.abs(way[axis]) < 1e-12) {
      if (Math.abs(from[axis]) > half[axis]) return null;
      continue;
    }
    const a = (-half[axis] - from[axis]) / way[axis];
    const b = (half[axis] - from[axis]) / way[axis];
    enter = Math.max(enter, Math.min(a, b));
    leave = Math.min(leave, Math.max(a, b));
  }
  return enter <= leave && enter >= 0 ? enter : null;
}

function enterEllipsoid({ from, way }: Ray, radii: Vec3): number | null {
  const f = from.map((v, i) => v / (radii[i] ?? 1)) as unknown as Vec3;
  const w = way.map((v, i) => v / (radii[i] ?? 1)) as unknown as Vec3;
  const [a, b, c] = [dot(w, w), dot(f, w), dot(f, f) - 1];
  const inside = b * b - a * c;
  if (inside < 0) return null;
  const t = (-b - Math.sqrt(inside)) / a;
  return t >= 0 ? t : null;
}

// A branch is met where the ray comes within its radius of the line between its ends.
function enterCylinder({ from, way }: Ray, along: Vec3, radius: number): number | null {
  const length = Math.sqrt(dot(along, along));
  if (length === 0) return null;
  const axis = along.map((v) => v / length) as unknown as Vec3;
  const across = (v: Vec3) => minus(v, axis.map((a) => a * dot(v, axis)) as unknown as Vec3);
  const [f, w] = [across(from), across(way)];
  const [a, b, c] = [dot(w, w), dot(f, w), dot(f, f) - radius * radius];
  if (a < 1e-12 || b * b < a * c) return null;
  const t = (-b - Math.sqrt(b * b - a * c)) / a;
  const at = dot(from, axis) + t * dot(way, axis);
  return t >= 0 && Math.abs(at) <= length / 2 ? t : null;
}

function enter(piece: Furniture, x: number, y: number, z: number): number | null {
  if (piece.shape === 'cylinder' && piece.from_cm && piece.to_cm) {
    const ray = ownRay(piece, middle(piece.from_cm, piece.to_cm), x, y, z);
    return enterCylinder(ray, minus(piece.to_cm, piece.from_cm), (piece.diameter_cm ?? 0) / 2);
  }
  if (piece.shape === 'ellipsoid' && piece.centre_cm && piece.radii_cm)
    return enterEllipsoid(ownRay(piece, piece.centre_cm, x, y, z), piece.radii_cm);
  if (piece.shape === 'box' && piece.min_cm && piece.max_cm) {
    const half = minus(piece.max_cm, piece.min_cm).map((cm) => cm / 2) as unknown as Vec3;
    return enterBox(ownRay(piece, middle(piece.min_cm, piece.max_cm), x, y, z), half);
  }
  return null; // leaves bear nothing; triangles from a file are the server's
}

export function surfaceBelow(
  enclosure: Enclosure,
  x: number,
  y: number,
  z: number,
  except: string | null = null,
): number {
  const tops = (enclosure.furniture ?? [])
    .filter(({ id }) => id !== except)
    .flatMap((piece) => {
      const way = enter(piece, x, y, z);
      return way === null ? [] : [z - way];
    });
  return Math.max(0, ...tops);
}
