// Where a piece is and how it is moved: by whole centimetres, inside the box, resting on what is below if it rested.
import type { Enclosure, Furniture, Vec3 } from '../../api/schema';
import { pieceNamed, withPiece, type Piece } from './pieces';
import { surfaceBelow } from './surfaces';

export type Bounds = { min: Vec3; max: Vec3 };

const plus = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const within = (value: number, low: number, high: number) =>
  Math.min(Math.max(value, low), Math.max(low, high));
const toMillimetre = (cm: number) => Math.round(cm * 10) / 10;
const rounded = (place: Vec3): Vec3 => [
  toMillimetre(place[0]),
  toMillimetre(place[1]),
  toMillimetre(place[2]),
];

const round = (centre: Vec3, radii: Vec3): Bounds => ({
  min: [centre[0] - radii[0], centre[1] - radii[1], centre[2] - radii[2]],
  max: plus(centre, radii),
});
const ordered = (a: Vec3, b: Vec3): Bounds => ({
  min: [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.min(a[2], b[2])],
  max: [Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.max(a[2], b[2])],
});

function boundsOfFurniture(piece: Furniture): Bounds {
  if (piece.shape === 'cylinder') return ordered(piece.from_cm ?? [0, 0, 0], piece.to_cm ?? [0, 0, 0]);
  if (piece.centre_cm) return round(piece.centre_cm, piece.radii_cm ?? [1, 1, 1]);
  if (piece.shape === 'mesh') {
    const place = piece.position_cm as Vec3 | undefined;
    return { min: place ?? [0, 0, 0], max: place ?? [0, 0, 0] };
  }
  return { min: piece.min_cm ?? [0, 0, 0], max: piece.max_cm ?? [0, 0, 0] };
}

// As it stands before it is turned.
export function boundsOf({ list, piece }: Piece): Bounds {
  switch (list) {
    case 'lamps':
      return { min: piece.centre_cm, max: piece.centre_cm };
    case 'screens':
      return { min: piece.min_cm, max: piece.max_cm };
    case 'spots':
      return { min: piece.position_cm, max: piece.position_cm };
    case 'furniture':
      return boundsOfFurniture(piece);
  }
}

export function centreOf(piece: Piece): Vec3 {
  const { min, max } = boundsOf(piece);
  return [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
}

const aboveOpenTop_cm = 50;

// How far it may still go: everything stays in the box; lamps may hang above a top that is open.
function allowed(enclosure: Enclosure, piece: Piece, by: Vec3): Vec3 {
  const { min, max } = boundsOf(piece);
  const isTopOpen = (enclosure.walls?.top ?? 'open') === 'open';
  const off = piece.list === 'lamps' ? 1 : 0;
  const above = piece.list === 'lamps' && isTopOpen ? aboveOpenTop_cm : -off;
  const top: Vec3 = [enclosure.size_cm[0] - off, enclosure.size_cm[1] - off, enclosure.size_cm[2] + above];
  // A rounded body may be partly buried.
  const buried = piece.list === 'furniture' && piece.piece.radii_cm ? piece.piece.radii_cm[2] : 0;
  const low: Vec3 = [off, off, off - buried];
  const along = (axis: 0 | 1 | 2) => within(by[axis], low[axis] - min[axis], top[axis] - max[axis]);
  return [along(0), along(1), along(2)];
}

export function movedBy(enclosure: Enclosure, id: string, wanted: Vec3): Enclosure {
  const found = pieceNamed(enclosure, id);
  if (!found) return enclosure;
  const by = allowed(enclosure, found, wanted);
  if (by.every((cm) => Math.abs(cm) < 1e-9)) return enclosure;
  const shift = (place: Vec3) => rounded(plus(place, by));
  switch (found.list) {
    case 'lamps':
      return withPiece(enclosure, 'lamps', id, (lamp) => ({ ...lamp, centre_cm: shift(lamp.centre_cm) }));
    case 'spots':
      return withPiece(enclosure, 'spots', id, (spot) => ({ ...spot, position_cm: shift(spot.position_cm) }));
    case 'screens':
      return withPiece(enclosure, 'screens', id, (screen) => ({
        ...screen,
        min_cm: shift(screen.min_cm),
        max_cm: shift(screen.max_cm),
      }));
    case 'furniture':
      return withPiece(enclosure, 'furniture', id, (piece) => shifted(piece, shift));
  }
}

function shifted(piece: Furniture, shift: (place: Vec3) => Vec3): Furniture {
  const { min_cm, max_cm, from_cm, to_cm, centre_cm } = piece;
  return {
    ...piece,
    ...(min_cm && { min_cm: shift(min_cm) }),
    ...(max_cm && { max_cm: shift(max_cm) }),
    ...(from_cm && { from_cm: shift(from_cm) }),
    ...(to_cm && { to_cm: shift(to_cm) }),
    ...(centre_cm && { centre_cm: shift(centre_cm) }),
    ...(piece.shape === 'mesh' && {
      position_cm: shift((piece.position_cm as Vec3 | undefined) ?? [0, 0, 0]),
    }),
  };
}

const touch_cm = 0.6; // so close to a surface it rests on it
const catch_cm = 1.5; // so close to one while it is lifted it is caught by it

const isCaught = ({ list }: Piece) => list === 'furniture' || list === 'spots';

function under(enclosure: Enclosure, piece: Piece): number {
  const { min } = boundsOf(piece);
  const [x, y] = centreOf(piece);
  return surfaceBelow(enclosure, x, y, min[2] + touch_cm, piece.piece.id);
}

export const rests = (enclosure: Enclosure, piece: Piece): boolean =>
  isCaught(piece) && Math.abs(boundsOf(piece).min[2] - under(enclosure, piece)) <= touch_cm;

// Drawn over the floor to a place of whole centimetres; what rested on something rests on what is there now. A spot
// climbs whatever it is drawn onto, furniture stays as high as it was or falls.
export function slidTo(enclosure: Enclosure, id: string, x: number, y: number): Enclosure {
  const before = pieceNamed(enclosure, id);
  if (!before) return enclosure;
  const [cx, cy] = centreOf(before);
  const slid = movedBy(enclosure, id, [Math.round(x) - cx, Math.round(y) - cy, 0]);
  const after = pieceNamed(slid, id);
  if (!after || !rests(enclosure, before)) return slid;
  const [ax, ay] = centreOf(after);
  const reach = after.list === 'spots' ? enclosure.size_cm[2] : boundsOf(after).min[2] + touch_cm;
  return movedBy(slid, id, [0, 0, surfaceBelow(slid, ax, ay, reach, id) - boundsOf(after).min[2]]);
}

// Lifted or lowered to a height of its middle, in whole centimetres of its underside; surfaces catch it.
export function liftedTo(enclosure: Enclosure, id: string, z: number): Enclosure {
  const before = pieceNamed(enclosure, id);
  if (!before) return enclosure;
  const bottom = boundsOf(before).min[2];
  const wanted = bottom + z - centreOf(before)[2];
  const [x, y] = centreOf(before);
  const surface = isCaught(before) ? surfaceBelow(enclosure, x, y, wanted + catch_cm, id) : -Infinity;
  const goal = Math.abs(wanted - surface) <= catch_cm ? surface : Math.round(wanted);
  return movedBy(enclosure, id, [0, 0, goal - bottom]);
}
