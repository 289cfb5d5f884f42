// The pieces of an enclosure, whatever list they are in: found, changed, added, copied and taken out by their id.
import type { Enclosure, Furniture, Lamp, Screen, Spot } from '../../api/schema';

export const lists = ['lamps', 'screens', 'furniture', 'spots'] as const;
export type List = (typeof lists)[number];
export type PieceOf = { lamps: Lamp; screens: Screen; furniture: Furniture; spots: Spot };
export type Piece = { [L in List]: { list: L; piece: PieceOf[L] } }[List];

export const listWords: Record<List, { one: string; many: string }> = {
  lamps: { one: 'lamp', many: 'Lamps' },
  screens: { one: 'screen', many: 'Screens' },
  furniture: { one: 'furniture', many: 'Furniture' },
  spots: { one: 'spot', many: 'Spots' },
};

// What did not change stays the same Piece, so that nobody draws it anew.
const known = new WeakMap<Piece['piece'], Piece>();
function found(list: List, piece: Piece['piece']): Piece {
  const before = known.get(piece);
  if (before?.list === list) return before;
  const made = { list, piece } as Piece;
  known.set(piece, made);
  return made;
}

export function piecesOf(enclosure: Enclosure): Piece[] {
  return lists.flatMap((list) =>
    ((enclosure[list] ?? []) as readonly Piece['piece'][]).map((piece) => found(list, piece)),
  );
}

export const pieceNamed = (enclosure: Enclosure, id: string | null): Piece | undefined =>
  id === null ? undefined : piecesOf(enclosure).find(({ piece }) => piece.id === id);

export function withPiece<L extends List>(
  enclosure: Enclosure,
  list: L,
  id: string,
  change: (piece: PieceOf[L]) => PieceOf[L],
): Enclosure {
  const old = (enclosure[list] ?? []) as readonly PieceOf[L][];
  const changed = old.map((piece) => (piece.id === id ? change(piece) : piece));
  return changed.every((piece, i) => piece === old[i]) ? enclosure : { ...enclosure, [list]: changed };
}

export function withoutPiece(enclosure: Enclosure, id: string): Enclosure {
  const named = pieceNamed(enclosure, id);
  if (!named) return enclosure;
  const rest = (enclosure[named.list] ?? []) as readonly { id: string }[];
  return { ...enclosure, [named.list]: rest.filter((piece) => piece.id !== id) };
}

// Ids are unique in the whole document: "stone", "stone-2", "stone-3".
export function freeId(enclosure: Enclosure, wanted: string): string {
  const taken = new Set(piecesOf(enclosure).map(({ piece }) => piece.id));
  const stem = wanted.replace(/-\d+$/, '');
  if (!taken.has(stem)) return stem;
  for (let n = 2; ; ++n) if (!taken.has(`${stem}-${n}`)) return `${stem}-${n}`;
}

export function withNew<L extends List>(enclosure: Enclosure, list: L, piece: PieceOf[L]): Enclosure {
  return { ...enclosure, [list]: [...((enclosure[list] ?? []) as readonly PieceOf[L][]), piece] };
}
