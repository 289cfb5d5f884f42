// Pieces put in: from the palette, or as a copy of one that stands there.
import type { Enclosure } from '../../api/schema';
import type { Choice } from './palette';
import { freeId, pieceNamed, withNew, type PieceOf } from './pieces';
import { boundsOf, movedBy } from './placing';

export function withChoice(enclosure: Enclosure, choice: Choice): { enclosure: Enclosure; id: string } {
  const id = freeId(enclosure, choice.key);
  return { enclosure: withNew(enclosure, choice.list, choice.make(id, enclosure)), id };
}

const beside_cm = 5;

// A copy beside the original, further where there is a wall.
export function withCopy(enclosure: Enclosure, id: string): { enclosure: Enclosure; id: string } | null {
  const found = pieceNamed(enclosure, id);
  if (!found) return null;
  const copy = { ...found.piece, id: freeId(enclosure, id) } as PieceOf[typeof found.list];
  const grown = withNew(enclosure, found.list, copy);
  const { min, max } = boundsOf(found);
  const step = max[0] - min[0] + beside_cm;
  const way = max[0] + step <= enclosure.size_cm[0] ? step : -step;
  return { enclosure: movedBy(grown, copy.id, [way, 0, 0]), id: copy.id };
}
