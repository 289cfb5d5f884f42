// What an enclosure's document says of its things. How it is changed is in edit/.
import type { Enclosure, Furniture, Lamp } from '../api/schema';

export const nameOf = (thing: { id: string; name?: string }): string => thing.name ?? thing.id;

// What stands elsewhere, or nowhere, in the other document: drawn as a ghost while a fix is tried on.
export function movedThings(
  before: Enclosure,
  after: Enclosure,
): { lamps: readonly Lamp[]; furniture: readonly Furniture[] } {
  const differs = (thing: object, others: readonly object[]) => {
    const text = JSON.stringify(placeOf(thing));
    return !others.some((other) => JSON.stringify(placeOf(other)) === text);
  };
  return {
    lamps: (before.lamps ?? []).filter((lamp) => differs(lamp, after.lamps ?? [])),
    furniture: (before.furniture ?? []).filter((piece) => differs(piece, after.furniture ?? [])),
  };
}

function placeOf(thing: object) {
  const { id, centre_cm, min_cm, max_cm, from_cm, to_cm } = thing as Partial<Furniture>;
  return { id, centre_cm, min_cm, max_cm, from_cm, to_cm };
}
