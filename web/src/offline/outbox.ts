// Writes on their way to the server: put in, taken back, mended, put aside. Every function is one transaction, or part
// of its caller's.
import { kept, type Fields, type OwnWrite, type Row } from './database';

export type Outgoing = {
  write: OwnWrite;
  round: string;
  words: string;
  spot?: string;
  quantity?: string;
};

// Who writes, as last heard from the server.
export async function ownPerson(): Promise<string | null> {
  return (await kept.choices.get('person'))?.value ?? null;
}

export async function putOut({ write, round, words, spot, quantity }: Outgoing): Promise<void> {
  await kept.outbox.add({
    id: write.id,
    round,
    spot: spot ?? null,
    quantity: quantity ?? null,
    write,
    words,
    state: 'waiting',
    tried: false,
    taken_back: false,
    by: await ownPerson(),
    made_at: new Date().toISOString(),
    sent_at: null,
    problem: null,
  });
}

// A value that never left is simply not sent; one that may have arrived is retired there.
export async function takeBack(row: Row): Promise<void> {
  const isOnlyHere = !row.tried || row.state === 'refused' || row.state === 'aside';
  await kept.outbox.update(row.seq, { taken_back: true, ...(isOnlyHere ? { state: 'undone' } : {}) });
  if (isOnlyHere) return;
  await putOut({
    write: {
      deed: 'retire',
      kind: row.write.kind,
      id: row.id,
      seen: 1,
      key: `${row.id}/retire`,
      why: 'Taken back',
    },
    round: row.round,
    words: `Take back: ${row.words}`,
  });
}

// Not tried yet in this form, which also tells the loop that there is something new to send.
const anew = { state: 'waiting', tried: false, problem: null } as const;

// Sent again as the person mended it. Nothing of it was stored, so its id is still free; the key is a new one, since
// it is another write.
export async function mend(seq: number, fields: Fields, words: string): Promise<void> {
  await kept.transaction('rw', kept.outbox, async () => {
    const row = await kept.outbox.get(seq);
    if (row?.state !== 'refused' && row?.state !== 'aside') return;
    const write = { ...row.write, fields, key: `${row.write.key}+` };
    await kept.outbox.update(seq, { write, words, ...anew });
  });
}

export async function tryAgain(seqs: readonly number[]): Promise<void> {
  await kept.outbox
    .where('seq')
    .anyOf([...seqs])
    .modify((row: Row) => {
      if (row.state === 'refused' || row.state === 'aside') Object.assign(row, anew);
    });
}

export async function putAside(seq: number): Promise<void> {
  await kept.outbox.where('seq').equals(seq).modify({ state: 'aside' });
}

const kept_days = 2;

// Acknowledged writes are kept a while, so that a round still shows its values; then they go. So do rounds.
export async function clearOld(now_ms = Date.now()): Promise<void> {
  const before = new Date(now_ms - kept_days * 86_400_000).toISOString();
  await kept.transaction('rw', kept.outbox, kept.rounds, async () => {
    await kept.outbox
      .where('state')
      .anyOf('sent', 'undone')
      .and((row) => (row.sent_at ?? row.made_at) < before)
      .delete();
    await kept.rounds
      .filter((round) => (round.ended_at ?? round.begun_at) < before && round.draft === '')
      .delete();
  });
}
