// What is typed is on the disk, sent once, and never lost: against an IndexedDB in memory and a server that answers as
// the record does (docs/record.md: a key that comes twice is there once, each write is answered for itself).
import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, it } from 'vitest';
import { Refusal } from '../api/client';
import type { Answer, Me, Write } from '../api/schema';
import {
  endRound,
  goTo,
  openRound,
  pressKey,
  takeValue,
  undoLast,
  valuesOf,
  type Names,
} from '../survey/round';
import { kept, type Row } from './database';
import { mend, putAside, tryAgain } from './outbox';
import { sendWaiting, type Server } from './sending';

const names: Names = { spot: 'Flat stone', meter: null, toRecord: (typed) => typed };
const where = { enclosure: 'north-3', site: 'S1', spot: 'bask' };

const problem = (status: number, title: string): Answer => ({
  status,
  problem: { type: 'about:blank', title, status, problems: [] },
});

// A record in little: things by id, answered keys, and a network that can fail before or after the write.
class LittleRecord implements Server {
  things = new Map<string, Write>();
  keys = new Set<string>();
  stored = 0;
  batches: number[] = [];
  network: 'up' | 'down' | 'loses the answer' = 'up';
  person: string | null = 'anna';
  refuses: (write: Write) => Answer | null = () => null;
  refusesBatch: (writes: readonly Write[]) => Refusal | null = () => null;

  me = () =>
    this.network === 'down'
      ? Promise.reject(new TypeError('Failed to fetch'))
      : Promise.resolve({ person: this.person === null ? null : { id: this.person } } as unknown as Me);

  write = (writes: readonly Write[]): Promise<Answer[]> => {
    if (this.network === 'down') return Promise.reject(new TypeError('Failed to fetch'));
    const refusal = this.refusesBatch(writes);
    if (refusal) return Promise.reject(refusal);
    this.batches.push(writes.length);
    const answers = writes.map((write) => this.one(write));
    return this.network === 'up'
      ? Promise.resolve(answers)
      : Promise.reject(new TypeError('Failed to fetch'));
  };

  private one(write: Write): Answer {
    const { id = '', key = '', deed } = write;
    if (this.keys.has(key)) return { status: 200 };
    const refused = this.refuses(write);
    if (refused) return refused;
    if (deed === 'create' && this.things.has(id)) return problem(409, 'There already');
    this.keys.add(key);
    this.stored += 1;
    if (deed === 'retire') this.things.delete(id);
    else this.things.set(id, write);
    return { status: deed === 'create' ? 201 : 200 };
  }

  isThere = ({ id }: { id: string }) => Promise.resolve(this.things.has(id));
  values = () =>
    [...this.things.values()].flatMap(({ fields }) => (fields as { value?: number }).value ?? []);
}

async function type(round: string, ...values: string[]): Promise<void> {
  for (const value of values) {
    for (const key of value) await pressKey(round, key as '1');
    expect(await takeValue(round, names)).toBe(value);
  }
}

const states = async () => (await kept.outbox.orderBy('seq').toArray()).map(({ state }) => state);
const only = async (state: string): Promise<Row> => {
  const row = await kept.outbox.where('state').equals(state).first();
  if (!row) throw new Error(`nothing is ${state}`);
  return row;
};

beforeEach(async () => {
  await Promise.all(kept.tables.map((table) => table.clear()));
});

describe('a round', () => {
  it('begins with its first value, and keeps what is half typed', async () => {
    const { id } = await openRound(where);
    await pressKey(id, '4');
    await pressKey(id, '.');
    expect(await kept.outbox.count()).toBe(0);
    expect((await openRound(where)).draft).toBe('4.');
    await pressKey(id, '2');
    await takeValue(id, names);
    expect((await kept.outbox.orderBy('seq').toArray()).map(({ write }) => write.kind)).toEqual([
      'survey',
      'reading',
    ]);
    expect((await valuesOf(id))[0]?.write.fields).toMatchObject({
      enclosure: 'north-3',
      spot: 'bask',
      value: 4.2,
      survey: id,
    });
  });

  it('keeps every key of a fast typist', async () => {
    const { id } = await openRound(where);
    await Promise.all([pressKey(id, '1'), pressKey(id, '2'), pressKey(id, '.'), pressKey(id, '5')]);
    expect((await kept.rounds.get(id))?.draft).toBe('12.5');
  });

  it('takes along what is typed when one goes on or ends', async () => {
    const { id } = await openRound(where);
    await pressKey(id, '7');
    await goTo(id, 'cool', { ...names, spot: 'Cool end' });
    await pressKey(id, '1');
    await endRound(id, names);
    const rows = await valuesOf(id);
    expect(rows.map(({ spot, write }) => [spot, write.fields?.value])).toEqual([
      ['bask', 7],
      ['cool', 1],
    ]);
    expect((await kept.outbox.orderBy('seq').last())?.write).toMatchObject({
      deed: 'change',
      kind: 'survey',
      seen: 1,
    });
    expect((await openRound(where)).id).not.toBe(id);
  });

  it('leaves nothing behind where nothing was read', async () => {
    const { id } = await openRound(where);
    await endRound(id, names);
    expect(await kept.outbox.count()).toBe(0);
  });

  it('says what was in the way in the reading’s note', async () => {
    const { id } = await openRound(where);
    await kept.rounds.update(id, { in_the_way: true });
    await type(id, '3');
    expect((await valuesOf(id))[0]?.write.fields?.note).toBe('Something in the way');
  });
});

describe('sending', () => {
  it('sends each write once, in the order of typing, the survey first', async () => {
    const record = new LittleRecord();
    const { id } = await openRound(where);
    await type(id, '4.2', '4.4');
    await endRound(id, names);
    expect(await sendWaiting(record)).toEqual({ what: 'nothing waits' });
    expect(record.values()).toEqual([4.2, 4.4]);
    expect(record.batches).toEqual([4]);
    expect(await states()).toEqual(['sent', 'sent', 'sent', 'sent']);
    await sendWaiting(record);
    expect(record.stored).toBe(4);
  });

  it('keeps everything without a network and sends it afterwards', async () => {
    const record = new LittleRecord();
    record.network = 'down';
    const { id } = await openRound(where);
    await type(id, '1', '2', '3');
    expect((await sendWaiting(record)).what).toBe('unreachable');
    expect(await states()).toEqual(['waiting', 'waiting', 'waiting', 'waiting']);
    record.network = 'up';
    await sendWaiting(record);
    expect(record.values()).toEqual([1, 2, 3]);
  });

  it('stores nothing twice when the answer is lost on its way', async () => {
    const record = new LittleRecord();
    record.network = 'loses the answer';
    const { id } = await openRound(where);
    await type(id, '1', '2');
    expect((await sendWaiting(record)).what).toBe('unreachable');
    expect(await states()).toEqual(['waiting', 'waiting', 'waiting']);
    record.network = 'up';
    await type(id, '3');
    expect((await sendWaiting(record)).what).toBe('nothing waits');
    expect(record.values()).toEqual([1, 2, 3]);
    expect(record.stored).toBe(4);
  });

  it('does no harm from two tabs at once', async () => {
    const record = new LittleRecord();
    const { id } = await openRound(where);
    await type(id, '1', '2');
    await Promise.all([sendWaiting(record), sendWaiting(record)]);
    expect(record.stored).toBe(3);
    expect(await states()).toEqual(['sent', 'sent', 'sent']);
  });

  it('takes for sent what had arrived under another session, whose keys are its own', async () => {
    const record = new LittleRecord();
    record.network = 'loses the answer';
    const { id } = await openRound(where);
    await type(id, '1');
    await sendWaiting(record);
    record.network = 'up';
    record.keys.clear();
    expect((await sendWaiting(record)).what).toBe('nothing waits');
    expect(await states()).toEqual(['sent', 'sent']);
    expect(record.values()).toEqual([1]);
  });

  it('keeps what is refused with the reason, sends the rest, and sends it when it is mended', async () => {
    const record = new LittleRecord();
    record.refuses = ({ fields }) =>
      (fields as { value?: number }).value === 420 ? problem(422, 'A value of 420 cannot be') : null;
    const { id } = await openRound(where);
    await type(id, '4', '420', '5');
    expect((await sendWaiting(record)).what).toBe('nothing waits');
    expect(await states()).toEqual(['sent', 'sent', 'refused', 'sent']);
    const row = await only('refused');
    expect(row.problem).toContain('A value of 420 cannot be');
    await putAside(row.seq);
    await sendWaiting(record);
    expect(record.values()).toEqual([4, 5]);
    await tryAgain([row.seq]);
    await sendWaiting(record);
    expect(await states()).toContain('refused');
    await mend(row.seq, { ...row.write.fields, value: 4.2 }, row.words);
    expect(await only('waiting')).toMatchObject({ tried: false, problem: null }); // the loop looks for these
    await sendWaiting(record);
    expect(record.values()).toEqual([4, 5, 4.2]);
    expect(await states()).toEqual(['sent', 'sent', 'sent', 'sent']);
  });

  it('finds the one write for which a whole batch is refused', async () => {
    const record = new LittleRecord();
    record.refusesBatch = (writes) =>
      writes.some(({ fields }) => (fields as { value?: number }).value === 9)
        ? new Refusal(413, { type: '', title: 'Larger than 4 MB', status: 413, problems: [] })
        : null;
    const { id } = await openRound(where);
    await type(id, '1', '9', '2');
    expect((await sendWaiting(record)).what).toBe('nothing waits');
    expect(record.values()).toEqual([1, 2]);
    expect((await only('refused')).write.fields?.value).toBe(9);
  });

  it('waits while the record is out of reach behind its server', async () => {
    const record = new LittleRecord();
    record.refuses = ({ kind }) =>
      kind === 'reading' ? problem(503, 'The database cannot be reached now') : null;
    const { id } = await openRound(where);
    await type(id, '1');
    expect(await sendWaiting(record)).toEqual({
      what: 'unreachable',
      why: 'The database cannot be reached now',
    });
    expect(await states()).toEqual(['sent', 'waiting']);
    record.refuses = () => null;
    await sendWaiting(record);
    expect(record.values()).toEqual([1]);
  });

  it('keeps everything when the session ends, and asks for no other’s name', async () => {
    const record = new LittleRecord();
    await kept.choices.put({ name: 'person', value: 'anna' });
    const { id } = await openRound(where);
    await type(id, '1');
    record.person = null;
    expect(await sendWaiting(record)).toEqual({ what: 'signed out' });
    record.person = 'ben';
    expect(await sendWaiting(record)).toEqual({ what: 'another person', waiting: 2 });
    expect(record.stored).toBe(0);
    record.person = 'anna';
    await sendWaiting(record);
    expect(record.values()).toEqual([1]);
  });
});

describe('taking back', () => {
  it('of a value that never left sends nothing', async () => {
    const record = new LittleRecord();
    const { id } = await openRound(where);
    await type(id, '1', '2');
    expect(await undoLast(id, 'bask', 'uvi')).toContain('UVI 2');
    await sendWaiting(record);
    expect(record.values()).toEqual([1]);
    expect(await states()).toEqual(['sent', 'sent', 'undone']);
  });

  it('of one that was sent, or may have been, retires it', async () => {
    const record = new LittleRecord();
    const { id } = await openRound(where);
    await type(id, '1');
    record.network = 'loses the answer';
    await sendWaiting(record);
    await undoLast(id, 'bask', 'uvi');
    expect(await valuesOf(id)).toEqual([]);
    record.network = 'up';
    await sendWaiting(record);
    expect(record.values()).toEqual([]);
    expect(await states()).toEqual(['sent', 'sent', 'sent']);
  });

  it('takes only from this spot', async () => {
    const { id } = await openRound(where);
    await type(id, '1');
    expect(await undoLast(id, 'cool', 'uvi')).toBeNull();
    expect(await valuesOf(id)).toHaveLength(1);
  });
});
