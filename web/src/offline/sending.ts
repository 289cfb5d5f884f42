// Sends what waits, in the order in which it was typed. Sent twice is stored once: ids and idempotency keys are made
// when the value is typed, so that a lost answer, a second tab or a server that died costs nothing but time.
import type { Answer, Me, ProblemDetails, Write } from '../api/schema';
import { Refusal } from '../api/client';
import { kept, type OwnWrite, type Row } from './database';
import { clearOld } from './outbox';

export type Server = {
  me: () => Promise<Me>;
  write: (writes: readonly Write[]) => Promise<readonly Answer[]>;
  // Is the thing there as this write would make it?
  isThere: (write: OwnWrite) => Promise<boolean>;
};

export type Outcome =
  | { what: 'nothing waits' }
  | { what: 'unreachable'; why: string }
  | { what: 'signed out' }
  | { what: 'another person'; waiting: number };

const most_writes = 100;
const most_text = 1_000_000; // the server takes bodies of 4 MB

const inWords = (problem: ProblemDetails | null | undefined, status: number): string =>
  problem
    ? [
        problem.detail ?? problem.title,
        ...problem.problems.map((p) => `${p.place} has ${p.found}; it may be ${p.allowed}.`),
      ].join(' ')
    : `The server answered with status ${status}.`;

const passes = (status: number) =>
  status === 401 || status === 403 || status === 408 || status === 429 || status >= 500;

function batchOf(rows: readonly Row[], most: number): Row[] {
  const batch: Row[] = [];
  let text = 0;
  for (const row of rows) {
    text += JSON.stringify(row.write).length;
    if (batch.length > 0 && (batch.length >= most || text > most_text)) break;
    batch.push(row);
  }
  return batch;
}

async function settle(server: Server, row: Row, answer: Answer): Promise<string | null> {
  const { status, problem } = answer;
  if (status < 300) {
    await kept.outbox.update(row.seq, { state: 'sent', sent_at: new Date().toISOString(), problem: null });
    return null;
  }
  const why = inWords(problem, status);
  if (passes(status)) {
    await kept.outbox.update(row.seq, { problem: why });
    return why;
  }
  // Its id is taken: by itself, if it arrived under another session. Then it is there, and that was all we wanted.
  const isThere = status === 409 && row.write.deed === 'create' && (await server.isThere(row.write));
  await kept.outbox.update(
    row.seq,
    isThere
      ? { state: 'sent', sent_at: new Date().toISOString(), problem: null }
      : { state: 'refused', problem: why },
  );
  return null;
}

type Sent = { stopped: string | null } | { refused: Refusal };

async function sendBatch(server: Server, batch: readonly Row[]): Promise<Sent> {
  try {
    const answers = await server.write(batch.map((row) => row.write as unknown as Write));
    let stopped: string | null = answers.length === batch.length ? null : 'The answer was cut short.';
    for (const [i, row] of batch.entries()) {
      const answer = answers[i];
      if (answer) stopped = (await settle(server, row, answer)) ?? stopped;
    }
    return { stopped };
  } catch (error) {
    if (error instanceof Refusal) return { refused: error };
    return { stopped: 'The server cannot be reached.' };
  }
}

// One attempt at everything that waits.
export async function sendWaiting(server: Server): Promise<Outcome> {
  await clearOld();
  let most = most_writes;
  for (;;) {
    const waiting = await kept.outbox.where('state').equals('waiting').sortBy('seq');
    if (waiting.length === 0) return { what: 'nothing waits' };
    let person: string | null;
    try {
      person = (await server.me()).person?.id ?? null;
    } catch (error) {
      return {
        what: 'unreachable',
        why: error instanceof Refusal ? error.message : 'The server cannot be reached.',
      };
    }
    if (person === null) return { what: 'signed out' };
    // What one person typed is never sent under another's name.
    const own = waiting.filter((row) => row.by === null || row.by === person);
    if (own.length === 0) return { what: 'another person', waiting: waiting.length };
    const batch = batchOf(own, most);
    // From here on a row may have arrived, whatever we hear.
    const seqs = batch.map((row) => row.seq);
    const claimed = await kept.transaction('rw', kept.outbox, async () => {
      const still = (await kept.outbox.bulkGet(seqs)).filter((row) => row?.state === 'waiting') as Row[];
      await kept.outbox
        .where('seq')
        .anyOf(still.map((row) => row.seq))
        .modify({ tried: true });
      return still;
    });
    if (claimed.length === 0) continue;
    const sent = await sendBatch(server, claimed);
    if ('stopped' in sent) {
      if (sent.stopped !== null) return { what: 'unreachable', why: sent.stopped };
      most = most_writes;
    } else if (sent.refused.status === 401) {
      return { what: 'signed out' };
    } else if (passes(sent.refused.status)) {
      return { what: 'unreachable', why: sent.refused.message };
    } else if (claimed.length > 1) {
      most = 1; // one of them is at fault: find it
    } else {
      const why = inWords(sent.refused.details, sent.refused.status);
      await kept.outbox
        .where('seq')
        .anyOf(claimed.map((row) => row.seq))
        .modify({ state: 'refused', problem: why });
    }
  }
}
