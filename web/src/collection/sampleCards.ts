// Cards for the tests of these screens.
import type { AnimalJudgement, Card, Verdict, VerdictPart } from '../api/schema';

const holding: VerdictPart = { holds: true, probability: 1, why: 'It holds.' };
const verdictWith = (parts: Partial<Verdict>): Verdict => ({
  basking: holding,
  retreat: holding,
  ceiling: holding,
  gradient: holding,
  together: holding,
  overall: holding,
  ...parts,
});

export function anAnimal(species: string, verdict: Partial<Verdict> = {}): AnimalJudgement {
  return {
    species,
    scientific_name: species.replaceAll('_', ' '),
    name: species.replaceAll('_', ' '),
    count: 1,
    estimate: false,
    zones: [3],
    band: [2.9, 7.4],
    ceiling: 7.4,
    back_height_cm: 4,
    climbs: true,
    basking_surface_c: null,
    air_warm_c: null,
    air_cool_c: null,
    night_c: null,
    states: {},
    reach: { area_m2: 1, quantiles: {}, share_in_band: 0.5, share_in_shade: 0.3 },
    verdict: verdictWith(verdict),
  };
}

type Sample = {
  id?: string;
  name?: string;
  room?: string | null;
  species?: readonly string[];
  count?: number;
  verdict?: Partial<Verdict>;
  change?: Partial<Card>;
};

export function aCard({
  id = 'north-3',
  name = 'North wall',
  room = null,
  species = ['crotaphytus_collaris'],
  count = 1,
  verdict = {},
  change = {},
}: Sample): Card {
  const signed = { at: '2026-03-01T10:00:00.000Z', by: 'local' };
  const kept = { site: 'room', revision: 1, made: signed, changed: signed, retired_at: null };
  return {
    enclosure: {
      kind: 'enclosure',
      id,
      ...kept,
      document: {
        format: 'dapple/enclosure@1',
        id,
        name,
        size_cm: [120, 60, 60],
        animals: species.map((one) => ({ species: one, count })),
      },
    },
    room_name: room,
    animals: [{ kind: 'animal', id: `${id}-ruby`, ...kept, species: species[0] ?? 'none', name: 'Ruby' }],
    lamps: 1,
    open_tasks: 0,
    last_survey: '2026-03-01',
    next_survey: '2026-03-31',
    readings: [],
    judgement: { enclosure: id, spots: [], notes: [], animals: species.map((one) => anAnimal(one, verdict)) },
    judging: false,
    problems: [],
    ...change,
  };
}
