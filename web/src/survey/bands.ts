// Which bands hold at a spot, from what was kept of the last judgement; where there was none, from what the document
// itself says of its animals.
import type { Card, Pair, Spot, State } from '../api/schema';
import type { ReadQuantity } from './quantities';
import { bandBetween, bandOf, stateOf, warmthStateOf, type Band } from './zone';

export type Expected = { animal: string; band: Band };

const named = (species: unknown): string =>
  typeof species === 'string' ? species.replace(/_/g, ' ') : 'animal';

function fromJudgement(card: Card, spot: Spot): Expected[] {
  return (card.judgement?.animals ?? [])
    .filter((animal) => spot.id in animal.states || spot.animal === animal.species)
    .flatMap((animal) =>
      animal.band
        ? [
            {
              animal: animal.name,
              band: { low: animal.band[0], high: animal.band[1], ceiling: animal.ceiling ?? animal.band[1] },
            },
          ]
        : [],
    );
}

function fromDocument(card: Card, spot: Spot): Expected[] {
  return (card.enclosure.document.animals ?? [])
    .filter((animal) => spot.animal === undefined || spot.animal === animal.species)
    .flatMap((animal) => {
      const band = animal.band ? bandBetween(animal.band) : bandOf(animal.zone ?? []);
      return band ? [{ animal: named(animal.species), band }] : [];
    });
}

export function bandsAt(card: Card, spot: Spot): Expected[] {
  const judged = fromJudgement(card, spot);
  return judged.length > 0 ? judged : fromDocument(card, spot);
}

type WarmRange = { animal: string; range: Pair; of: string };

// The surface where the animal basks, the cool air where it retreats.
export function warmthAt(card: Card, spot: Spot): WarmRange[] {
  return (card.judgement?.animals ?? [])
    .filter((animal) => spot.id in animal.states || spot.animal === animal.species)
    .flatMap((animal) => {
      const range = spot.role === 'retreat' ? animal.air_cool_c : animal.basking_surface_c;
      return range
        ? [{ animal: animal.name, range, of: spot.role === 'retreat' ? 'cool air' : 'basking surface' }]
        : [];
    });
}

export type Judged = { animal: string; state: State; overCeiling: boolean };

export function judged(card: Card, spot: Spot, quantity: ReadQuantity, value: number): Judged[] {
  if (quantity === 'uvi')
    return bandsAt(card, spot).map(({ animal, band }) => ({
      animal,
      state: stateOf(value, band),
      overCeiling: value > band.ceiling,
    }));
  if (quantity === 'temperature')
    return warmthAt(card, spot).map(({ animal, range }) => ({
      animal,
      state: warmthStateOf(value, range),
      overCeiling: false,
    }));
  return [];
}
