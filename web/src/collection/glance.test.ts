import { describe, expect, it } from 'vitest';
import { byRoom, fitsWords, needsAttention, stateOf } from './glance';
import { aCard, anAnimal } from './sampleCards';

const failing = { holds: false, probability: 0, why: 'Too dark.' };
const unknown = { holds: null, probability: null, why: 'Nothing to judge from.' };

describe('how an animal stands', () => {
  it('names what does not hold', () => {
    expect(stateOf(anAnimal('a', { basking: failing, retreat: failing, overall: failing }))).toEqual({
      holds: false,
      words: 'To put right: basking, retreat',
    });
  });

  it('says when it cannot be judged, and never calls that good', () => {
    expect(stateOf(anAnimal('a', { overall: unknown })).holds).toBeNull();
    expect(stateOf(anAnimal('a')).holds).toBe(true);
  });

  it('does not call good what only the whole says fails', () => {
    expect(stateOf(anAnimal('a', { overall: failing }))).toEqual({
      holds: false,
      words: 'To put right: Too dark.',
    });
  });
});

describe('what needs attention', () => {
  const today = '2026-03-20';
  it('is an animal out of its range, a late survey, an open task or a model that cannot be judged', () => {
    expect(needsAttention(aCard({}), today)).toBe(false);
    expect(needsAttention(aCard({ verdict: { overall: failing } }), today)).toBe(true);
    expect(needsAttention(aCard({ change: { next_survey: '2026-03-19' } }), today)).toBe(true);
    expect(needsAttention(aCard({ change: { open_tasks: 1 } }), today)).toBe(true);
    expect(needsAttention(aCard({ change: { judgement: null, problems: ['No size.'] } }), today)).toBe(true);
  });

  it('is not a survey that is due today, nor a verdict on its way', () => {
    expect(needsAttention(aCard({ change: { next_survey: today } }), today)).toBe(false);
    expect(needsAttention(aCard({ change: { judgement: null, judging: true } }), today)).toBe(false);
  });
});

describe('finding an enclosure', () => {
  const card = aCard({ name: 'North wall', room: 'Dry room', species: ['crotaphytus_collaris'] });
  it('takes words in any order from its name, room and animals', () => {
    for (const words of ['', 'north', 'WALL dry', 'collaris', 'ruby', 'crotaphytus north']) {
      expect(fitsWords(card, words), words).toBe(true);
    }
    expect(fitsWords(card, 'north humid')).toBe(false);
  });
});

describe('rooms', () => {
  it('come in order with what stands in none last, without what is retired', () => {
    const gone = aCard({ id: 'gone', room: 'Dry room' });
    const cards = [
      aCard({ id: 'c' }),
      aCard({ id: 'b', name: 'Bog', room: 'Room 10' }),
      aCard({ id: 'd', name: 'Alder', room: 'Room 10' }),
      aCard({ id: 'a', room: 'Room 9' }),
      { ...gone, enclosure: { ...gone.enclosure, retired_at: '2026-03-02T00:00:00.000Z' } },
    ];
    expect(
      byRoom(cards).map(({ name, cards: its }) => [name, its.map(({ enclosure }) => enclosure.id)]),
    ).toEqual([
      ['Room 9', ['a']],
      ['Room 10', ['d', 'b']],
      [null, ['c']],
    ]);
  });
});
