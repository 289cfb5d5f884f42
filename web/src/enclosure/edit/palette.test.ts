// What the palette makes must stand inside the box and have what the document's schema requires of its kind.
import { describe, expect, it } from 'vitest';
import schema from '../../../../data/schemas/enclosure.json';
import type { Enclosure } from '../../api/schema';
import { withChoice, withCopy } from './adding';
import { choices } from './palette';
import { piecesOf } from './pieces';
import { boundsOf } from './placing';

const small: Enclosure = { format: 'dapple/enclosure@1', id: 'small', size_cm: [45, 45, 60] };
const large: Enclosure = { format: 'dapple/enclosure@1', id: 'large', size_cm: [180, 60, 60] };

type Kind = { properties: Record<string, unknown>; required: string[] };
const kindsOf = (list: string): Kind[] => {
  const defs = schema.$defs as unknown as Record<string, { oneOf?: Kind[] } & Kind>;
  const def = defs[{ lamps: 'lamp', screens: 'screen', furniture: 'furniture', spots: 'spot' }[list] ?? ''];
  return def?.oneOf ?? (def ? [def] : []);
};

describe.each([small, large])('the palette in $id', (enclosure) => {
  it.each(choices.map((choice) => [choice.words, choice] as const))('has %s ready to use', (_, choice) => {
    const { enclosure: made, id } = withChoice(enclosure, choice);
    const found = piecesOf(made).find(({ piece }) => piece.id === id);
    if (!found) throw new Error('nothing was added');
    const fields = Object.keys(found.piece);
    const fitting = kindsOf(choice.list).filter(
      (kind) =>
        kind.required.every((field) => fields.includes(field)) &&
        fields.every((field) => field in kind.properties),
    );
    expect(fitting.length, JSON.stringify(found.piece)).toBeGreaterThan(0);
    const { min, max } = boundsOf(found);
    const isLamp = choice.list === 'lamps';
    for (const axis of [0, 1] as const) {
      expect(min[axis]).toBeGreaterThanOrEqual(0);
      expect(max[axis]).toBeLessThanOrEqual(enclosure.size_cm[axis]);
    }
    expect(max[2]).toBeLessThanOrEqual(enclosure.size_cm[2] + (isLamp ? 50 : 0));
  });
});

describe('a copy', () => {
  it('stands beside its original under a name of its own', () => {
    const stone = choices.find(({ key }) => key === 'stone');
    if (!stone) throw new Error('there is no stone');
    const { enclosure, id } = withChoice(large, stone);
    const copied = withCopy(enclosure, id);
    expect(copied?.id).toBe('stone-2');
    const [first, second] = (copied?.enclosure.furniture ?? []).map(({ min_cm }) => min_cm?.[0] ?? 0);
    expect((second ?? 0) - (first ?? 0)).toBe(35);
  });
});
