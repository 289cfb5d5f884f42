import { describe, expect, it } from 'vitest';
import type { Due } from '../api/schema';
import { aCard } from '../collection/sampleCards';
import { failingOf, groupsOf, whenWords } from './urgency';

const due = (thing: string, days_over: number): Due => ({
  kind: 'survey',
  site: 'room',
  thing,
  enclosure: thing,
  title: `Survey ${thing}`,
  why: 'Last read 41 days ago; every 30 days.',
  due: '2026-03-01',
  days_over,
  settling: 'survey_enclosure',
});

describe('what is due', () => {
  it('falls into overdue, this week with today, and later, in the order it came', () => {
    const groups = groupsOf([
      due('a', 11),
      due('b', 1),
      due('c', 0),
      due('d', -6),
      due('e', -7),
      due('f', -90),
    ]);
    expect(groups.map(({ title, due: its }) => [title, its.map(({ thing }) => thing)])).toEqual([
      ['Overdue', ['a', 'b']],
      ['Today and this week', ['c', 'd']],
      ['Later', ['e', 'f']],
    ]);
  });

  it('shows no group that is empty', () => {
    expect(groupsOf([])).toEqual([]);
    expect(groupsOf([due('a', 0)]).map(({ title }) => title)).toEqual(['Today and this week']);
  });

  it('says how far over or ahead it is', () => {
    expect([3, 1, 0, -1, -5].map(whenWords)).toEqual([
      '3 days over',
      '1 day over',
      'due today',
      'in 1 day',
      'in 5 days',
    ]);
  });
});

describe('animals to put right', () => {
  const failing = { holds: false, probability: 0.02, why: 'Nowhere bright enough.' };
  it('are those whose verdict fails, each with the reasons of what fails', () => {
    const cards = [
      aCard({ id: 'good' }),
      aCard({ id: 'dark', verdict: { basking: failing, overall: { ...failing, why: 'Basking fails.' } } }),
      aCard({ id: 'coming', change: { judgement: null, judging: true } }),
      aCard({ id: 'unknown', verdict: { overall: { holds: null, probability: null, why: '' } } }),
    ];
    expect(failingOf(cards).map(({ card, why }) => [card.enclosure.id, why])).toEqual([
      ['dark', 'Basking: Nowhere bright enough.'],
    ]);
  });
});
