import { describe, expect, it } from 'vitest';
import type { ImportPreview } from '../api/schema';
import { onlySaid, said } from './fields';
import { listed, sentencesOf } from './previewWords';
import { deedWords } from './trailWords';

const preview: ImportPreview = {
  would_add: { reading: 24, survey: 1 },
  there: { reading: 2 },
  enclosures: ['dry-wall', 'fern-gully'],
  first: '2026-01-03',
  last: '2026-02-20',
  left_out: [],
  faults: [],
  added: null,
};

describe('an import in words', () => {
  it('says what it would add, from when to when, and what is there already', () => {
    expect(sentencesOf(preview)).toEqual([
      'It would add 24 readings and 1 survey, from 3 Jan 2026 to 20 Feb 2026.',
      'Already in the record, and left as they are: 2 readings.',
      'Enclosures: dry-wall and fern-gully.',
    ]);
  });

  it('says so when all of it is there, and when a fault keeps it out', () => {
    expect(sentencesOf({ ...preview, would_add: {}, there: {}, enclosures: [] })).toEqual([
      'There is nothing new in it.',
    ]);
    const fault = { file: 'a.csv', place: 'row 3', found: 'no date', allowed: 'a date' };
    expect(sentencesOf({ ...preview, would_add: {}, there: {}, enclosures: [], faults: [fault] })).toEqual([
      'Nothing can be brought in until this is put right:',
    ]);
  });

  it('lists as people do', () => {
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(listed)).toEqual(['', 'a', 'a and b', 'a, b and c']);
  });
});

describe('a form’s fields', () => {
  it('keep nought, and leave out what was not said', () => {
    expect(said('')).toBeUndefined();
    expect(said('0')).toBe(0);
    expect(onlySaid({ name: 'Room', elevation_m: said(0), note: '', lat_deg: said('') })).toEqual({
      name: 'Room',
      elevation_m: 0,
    });
  });
});

describe('the trail', () => {
  it('reads as a sentence', () => {
    expect(deedWords({ deed: 'create', kind: 'animal' })).toBe('added an animal');
    expect(deedWords({ deed: 'restore', kind: 'lamp' })).toBe('restored an earlier version of a lamp');
    expect(deedWords({ deed: 'change', kind: 'lamp_event' })).toBe('changed an event of a lamp');
  });
});
