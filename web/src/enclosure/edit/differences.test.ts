import { describe, expect, it } from 'vitest';
import type { ChangedEnclosure } from '../../api/schema';
import { differences } from './differences';
import { dropDraft, draftOf, keepDraft } from './draft';
import { same } from './same';

const before: ChangedEnclosure = {
  document: {
    format: 'dapple/enclosure@1',
    id: 'box',
    name: 'Box',
    size_cm: [120, 60, 60],
    walls: { floor: 'soil' },
    lamps: [
      { id: 'uv', name: 'UV tube', kind: 'tube', centre_cm: [60, 30, 56], output: { uvi: 3, at_cm: 30 } },
    ],
    spots: [{ id: 'bask', position_cm: [60, 30, 18] }],
  },
  room: 'north',
};

describe('differences', () => {
  it('are none where only the order of fields differs', () => {
    const { room, document } = before;
    expect(differences(before, { room, document: { ...document, name: 'Box' } }, 'cm')).toEqual([]);
    expect(same({ a: 1, b: [1, { c: 2 }] }, { b: [1, { c: 2 }], a: 1 })).toBe(true);
    expect(same({ a: 1 }, { a: 1, b: undefined })).toBe(true);
    expect(same([1, 2], [2, 1])).toBe(false);
  });

  it('name piece, field and both values, in the unit of the person', () => {
    const [lamp] = before.document.lamps ?? [];
    const after: ChangedEnclosure = {
      document: {
        ...before.document,
        walls: { floor: 'dry_sand' },
        lamps: lamp ? [{ ...lamp, centre_cm: [60, 30, 48.3] }] : [],
        spots: [{ id: 'cool', name: 'Cool end', position_cm: [110, 20, 0] }],
      },
      room: 'north',
      survey_every_days: 30,
    };
    expect(differences(before, after, 'cm')).toEqual([
      'Walls, floor: soil → dry sand',
      'UV tube, place: 60, 30, 56 cm → 60, 30, 48.3 cm',
      'spot added: Cool end',
      'spot taken out: bask',
      'days between surveys: nothing → 30',
    ]);
    expect(differences(before, after, 'in')[1]).toBe('UV tube, place: 23.6, 11.8, 22 in → 23.6, 11.8, 19 in');
  });
});

describe('a draft', () => {
  it('comes back as it was kept, until it is dropped', () => {
    const draft = { seen: 3, at: '2026-05-01T10:00:00Z', fields: before };
    expect(keepDraft('box', draft)).toBe(true);
    expect(draftOf('box')).toEqual(draft);
    dropDraft('box');
    expect(draftOf('box')).toBeNull();
  });

  it('that cannot be read is none', () => {
    localStorage.setItem('dapple-draft-enclosure-box', '{"seen":1,');
    expect(draftOf('box')).toBeNull();
    localStorage.setItem('dapple-draft-enclosure-box', '{"seen":1}');
    expect(draftOf('box')).toBeNull();
  });

  it('that the device refuses is said to be refused', () => {
    const full = {
      setItem: () => {
        throw new DOMException('full', 'QuotaExceededError');
      },
    } as unknown as Storage;
    expect(keepDraft('box', { seen: 1, at: '', fields: before }, full)).toBe(false);
  });
});
