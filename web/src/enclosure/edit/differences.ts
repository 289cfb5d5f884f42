// What differs between two states of an enclosure, in words: for the history, for a conflict, for what is not saved.
import type { ChangedEnclosure } from '../../api/schema';
import { fromCm, type LengthUnit } from '../../parts/units';
import { lists, listWords } from './pieces';
import { same } from './same';

const fieldWords: Record<string, string> = {
  size_cm: 'size',
  centre_cm: 'place',
  position_cm: 'place',
  min_cm: 'near corner',
  max_cm: 'far corner',
  from_cm: 'one end',
  to_cm: 'other end',
  radii_cm: 'radii',
  turn_deg: 'turn',
  length_cm: 'length',
  diameter_cm: 'diameter',
  height_cm: 'reading height',
  back_height_cm: 'back height',
  beam_deg: 'beam',
  power_w: 'power, W',
  hours_on: 'hours a day',
  leaf_area_density: 'leaves, m²/m³',
  room_c: 'room, °C',
  survey_every_days: 'days between surveys',
};

const wordsOf = (field: string) => fieldWords[field] ?? field.replaceAll('_', ' ');

type Thing = Readonly<Record<string, unknown>>;

function show(field: string, value: unknown, unit: LengthUnit): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  const length = (cm: number) => Number(fromCm(cm, unit).toFixed(1));
  const isLength = field.endsWith('_cm');
  if (typeof value === 'number') return isLength ? `${length(value)} ${unit}` : String(value);
  if (Array.isArray(value) && value.every((one) => typeof one === 'number')) {
    const numbers = value.map((one) => (isLength ? length(one) : one)).join(', ');
    return isLength ? `${numbers} ${unit}` : numbers;
  }
  if (typeof value === 'string')
    return value.length > 60 ? `${value.slice(0, 57)}…` : value.replaceAll('_', ' ');
  if (Array.isArray(value)) return value.map((one) => show(field, one, unit)).join('; ');
  return Object.entries(value as Thing)
    .map(([name, inner]) => `${wordsOf(name)} ${show(name, inner, unit)}`)
    .join(', ');
}

function fields(
  name: string,
  before: Thing,
  after: Thing,
  unit: LengthUnit,
  skip: readonly string[],
): string[] {
  const all = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  return all
    .filter((field) => !skip.includes(field) && !same(before[field], after[field]))
    .map((field) => {
      const change = `${show(field, before[field], unit)} → ${show(field, after[field], unit)}`;
      return name === '' ? `${wordsOf(field)}: ${change}` : `${name}, ${wordsOf(field)}: ${change}`;
    });
}

const nameOf = (thing: Thing): string => {
  const name = thing.name ?? thing.id ?? thing.species;
  return typeof name === 'string' ? name.replaceAll('_', ' ') : 'unnamed';
};

function listed(before: readonly Thing[], after: readonly Thing[], what: string, unit: LengthUnit): string[] {
  const keyOf = (thing: Thing, i: number) => thing.id ?? JSON.stringify([thing.species, i]);
  const old = new Map(before.map((thing, i) => [keyOf(thing, i), thing]));
  const now = new Map(after.map((thing, i) => [keyOf(thing, i), thing]));
  const added = [...now]
    .filter(([key]) => !old.has(key))
    .map(([, thing]) => `${what} added: ${nameOf(thing)}`);
  const gone = [...old]
    .filter(([key]) => !now.has(key))
    .map(([, thing]) => `${what} taken out: ${nameOf(thing)}`);
  const changed = [...now].flatMap(([key, thing]) => {
    const was = old.get(key);
    return was ? fields(nameOf(was), was, thing, unit, ['id']) : [];
  });
  return [...added, ...gone, ...changed];
}

export function differences(before: ChangedEnclosure, after: ChangedEnclosure, unit: LengthUnit): string[] {
  const [old, now] = [before.document as Thing, after.document as Thing];
  const things = (document: Thing, list: string) => (document[list] ?? []) as readonly Thing[];
  return [
    ...fields('', old, now, unit, ['format', 'id', 'walls', 'animals', ...lists]),
    ...fields('Walls', (old.walls ?? {}) as Thing, (now.walls ?? {}) as Thing, unit, []),
    ...listed(things(old, 'animals'), things(now, 'animals'), 'animal', unit),
    ...lists.flatMap((list) => listed(things(old, list), things(now, list), listWords[list].one, unit)),
    ...fields('', before as Thing, after as Thing, unit, ['document']),
  ];
}
