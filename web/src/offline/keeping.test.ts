// What is kept for a visit without a network follows what the server last said.
import 'fake-indexeddb/auto';
import { QueryClient } from '@tanstack/react-query';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Card, Due, Judgement, Meter } from '../api/schema';
import { kept } from './database';
import { keepCards, keepDue, keepMeters, keepWhatComes } from './keeping';

const card = (id: string, site: string, more: object = {}): Card =>
  ({
    enclosure: { id, site, revision: 1, document: { id } },
    judgement: { enclosure: id } as Judgement,
    judging: false,
    readings: [],
    ...more,
  }) as unknown as Card;

const due = (thing: string, kind: Due['kind'] = 'survey') => ({ thing, kind, site: 'A' }) as Due;
const ids = async () => (await kept.places.toArray()).map(({ id }) => id);

beforeEach(async () => {
  await Promise.all(kept.tables.map((table) => table.clear()));
});

describe('kept places', () => {
  it('come and go with the collection, each site for itself', async () => {
    await keepCards([card('one', 'A'), card('two', 'B')], undefined);
    await keepCards([card('three', 'A')], 'A');
    expect(await ids()).toEqual(['three', 'two']);
    await keepCards([card('two', 'B')], undefined);
    expect(await ids()).toEqual(['two']);
  });

  it('keep the last judgement while a new one of the same document is worked out', async () => {
    await keepCards([card('one', 'A')], undefined);
    await keepCards([card('one', 'A', { judgement: null, judging: true })], undefined);
    expect((await kept.places.get('one'))?.card.judgement).not.toBeNull();
    const changed = { enclosure: { id: 'one', site: 'A', revision: 2 }, judgement: null, judging: true };
    await keepCards([card('one', 'A', changed)], undefined);
    expect((await kept.places.get('one'))?.card.judgement).toBeNull();
  });

  it('know which surveys are due, and forget those that were done', async () => {
    await keepDue([due('one'), due('lamp', 'lamp')], undefined);
    expect((await kept.due.toArray()).map(({ thing }) => thing)).toEqual(['one']);
    await keepDue([], undefined);
    expect(await kept.due.count()).toBe(0);
  });

  it('are taken from whatever the screens ask', async () => {
    const queries = new QueryClient();
    const end = keepWhatComes(queries);
    const ask = (queryKey: unknown[], answer: unknown) =>
      queries.query({ queryKey, queryFn: () => Promise.resolve(answer) });
    await ask(['record', 'collection', undefined], { cards: [card('one', 'A')] });
    await ask(['record', 'meters', {}], [{ id: 'M' } as Meter]);
    await ask(['me'], { person: { id: 'anna' } });
    await expect.poll(ids).toEqual(['one']);
    await expect.poll(() => kept.meters.count()).toBe(1);
    await expect.poll(async () => (await kept.choices.get('person'))?.value).toBe('anna');
    end();
  });

  it('hold the meters of today only', async () => {
    await keepMeters([{ id: 'M' } as Meter, { id: 'N' } as Meter]);
    await keepMeters([{ id: 'N' } as Meter]);
    expect((await kept.meters.toArray()).map(({ id }) => id)).toEqual(['N']);
  });
});
