// Enclosure documents as values: what stands where, and changed copies. Lengths in cm, as in the document.
import type { Enclosure, Furniture, Judgement, Lamp, Vec3 } from '../api/schema';

export function lampNamed(enclosure: Enclosure, id: string): Lamp | undefined {
  return enclosure.lamps?.find((lamp) => lamp.id === id);
}

export const nameOf = (thing: { id: string; name?: string }): string => thing.name ?? thing.id;

const within = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value));
const toMillimetre = (cm: number) => Math.round(cm * 10) / 10;

// A lamp stays over the enclosure's floor; above an open or screened top it may hang up to half a metre higher.
export function insideReach(enclosure: Enclosure, [x, y, z]: Vec3): Vec3 {
  const [width, depth, height] = enclosure.size_cm;
  const isTopOpen = (enclosure.walls?.top ?? 'open') === 'open';
  return [
    toMillimetre(within(x, 1, width - 1)),
    toMillimetre(within(y, 1, depth - 1)),
    toMillimetre(within(z, 1, isTopOpen ? height + 50 : height - 1)),
  ];
}

export function withLampAt(enclosure: Enclosure, id: string, centre: Vec3): Enclosure {
  const centre_cm = insideReach(enclosure, centre);
  return {
    ...enclosure,
    lamps: enclosure.lamps?.map((lamp) => (lamp.id === id ? { ...lamp, centre_cm } : lamp)),
  };
}

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

// A spot's predicted value, by its id.
export function readingAt(judgement: Judgement | undefined, id: string): number | undefined {
  return judgement?.spots.find((spot) => spot.id === id)?.uvi;
}
