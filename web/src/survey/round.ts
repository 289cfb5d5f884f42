// A round of readings in one enclosure, as it happens. Each function is one transaction: when it returns, what it took
// is on the disk. Values are the rows of the outbox; nothing is counted twice.
import { newId } from '../offline/ids';
import { kept, type Fields, type Round, type Row } from '../offline/database';
import { putOut, takeBack } from '../offline/outbox';
import { press, valueOf, type Key } from './digits';
import { quantityOf, readWords, type ReadQuantity } from './quantities';

const resumed_h = 12; // a round left open for longer is another day's

export type Where = { enclosure: string; site: string; spot: string };

// The round that goes on in this enclosure, or a new one. Nothing is sent before its first value.
export async function openRound({ enclosure, site, spot }: Where): Promise<Round> {
  const since = new Date(Date.now() - resumed_h * 3_600_000).toISOString();
  return kept.transaction('rw', kept.rounds, async () => {
    const open = await kept.rounds
      .where('enclosure')
      .equals(enclosure)
      .and((round) => round.ended_at === null && round.begun_at > since)
      .last();
    if (open) return open;
    const round: Round = {
      id: newId(),
      site,
      enclosure,
      begun_at: new Date().toISOString(),
      ended_at: null,
      spot,
      quantity: 'uvi',
      draft: '',
      in_the_way: false,
    };
    await kept.rounds.add(round);
    return round;
  });
}

export async function pressKey(id: string, key: Key): Promise<void> {
  await kept.rounds
    .where('id')
    .equals(id)
    .modify((round: Round) => void (round.draft = press(round.draft, key)));
}

export const changeRound = (
  id: string,
  change: Partial<Pick<Round, 'draft' | 'in_the_way' | 'quantity'>>,
): Promise<number> => kept.rounds.update(id, change);

// As the person knows the places and the meters.
export type Names = { spot: string; meter: string | null; toRecord: (typed: number) => number };

async function beginIfNew(round: Round): Promise<void> {
  if ((await kept.outbox.where('id').equals(round.id).count()) > 0) return;
  const fields: Fields = { enclosure: round.enclosure, begun_at: round.begun_at };
  await putOut({
    write: {
      deed: 'create',
      kind: 'survey',
      id: round.id,
      site: round.site,
      key: `${round.id}/create`,
      fields,
    },
    round: round.id,
    words: `Survey begun, ${round.enclosure}`,
  });
}

const everything = [kept.rounds, kept.outbox, kept.choices];

async function take(round: Round, names: Names): Promise<string | null> {
  const typed = valueOf(round.draft);
  if (typed === null) return null;
  await beginIfNew(round);
  const quantity = quantityOf(round.quantity);
  const id = newId();
  const fields: Fields = {
    enclosure: round.enclosure,
    survey: round.id,
    spot: round.spot,
    quantity,
    value: names.toRecord(typed),
    taken_at: new Date().toISOString(),
    ...(names.meter !== null ? { meter: names.meter } : {}),
    ...(round.in_the_way ? { note: 'Something in the way' } : {}),
  };
  await putOut({
    write: { deed: 'create', kind: 'reading', id, site: round.site, key: `${id}/create`, fields },
    round: round.id,
    spot: round.spot,
    quantity,
    words: `${names.spot}, ${readWords[quantity].name} ${round.draft}`,
  });
  await kept.rounds.update(round.id, { draft: '' });
  return round.draft;
}

// What is typed becomes a reading: answers with it, or with null where there is no number yet.
export async function takeValue(id: string, names: Names): Promise<string | null> {
  return kept.transaction('rw', everything, async () => {
    const round = await kept.rounds.get(id);
    return round ? take(round, names) : null;
  });
}

// On to another spot; what is typed is taken along the way.
export async function goTo(id: string, spot: string, names: Names): Promise<void> {
  await kept.transaction('rw', everything, async () => {
    const round = await kept.rounds.get(id);
    if (!round) return;
    await take(round, names);
    await kept.rounds.update(id, { spot, draft: '', in_the_way: false });
  });
}

export async function endRound(id: string, names: Names): Promise<void> {
  await kept.transaction('rw', everything, async () => {
    const round = await kept.rounds.get(id);
    if (!round || round.ended_at !== null) return;
    await take(round, names);
    const ended_at = new Date().toISOString();
    await kept.rounds.update(id, { ended_at, draft: '' });
    if ((await kept.outbox.where('id').equals(id).count()) === 0) return; // nothing was read
    const fields: Fields = { enclosure: round.enclosure, begun_at: round.begun_at, ended_at };
    await putOut({
      write: { deed: 'change', kind: 'survey', id, seen: 1, key: `${id}/end`, fields },
      round: id,
      words: `Survey ended, ${round.enclosure}`,
    });
  });
}

const isStanding = (row: Row) =>
  row.write.kind === 'reading' && row.write.deed === 'create' && !row.taken_back;

// Values of a round as typed, oldest first.
export async function valuesOf(round: string): Promise<Row[]> {
  return (await kept.outbox.where('round').equals(round).sortBy('seq')).filter(isStanding);
}

// Takes back the last value at this spot; returns its words.
export async function undoLast(id: string, spot: string, quantity: ReadQuantity): Promise<string | null> {
  return kept.transaction('rw', everything, async () => {
    const last = (await valuesOf(id)).filter((row) => row.spot === spot && row.quantity === quantity).at(-1);
    if (!last) return null;
    await takeBack(last);
    return last.words;
  });
}

export type Remark = { round: Round; spot: string; text: string };

const today = () => new Date().toLocaleDateString('sv'); // 2026-03-01, as the clock on the wall has it

async function putNote({ round, spot, text }: Remark): Promise<void> {
  const id = newId();
  const fields: Fields = {
    about_kind: 'enclosure',
    about: round.enclosure,
    written_on: today(),
    text: `${spot}: ${text}`,
  };
  await putOut({
    write: { deed: 'create', kind: 'note', id, site: round.site, key: `${id}/create`, fields },
    round: round.id,
    words: `Note on ${spot}: ${text}`,
  });
}

export async function noteDown(remark: Remark): Promise<void> {
  await kept.transaction('rw', everything, () => putNote(remark));
}

// A picture travels as the text of a file, with a note that names it.
export async function keepPhoto(round: Round, spot: string, dataUrl: string): Promise<void> {
  const id = newId();
  await kept.transaction('rw', everything, async () => {
    await putOut({
      write: {
        deed: 'create',
        kind: 'file',
        id,
        site: round.site,
        key: `${id}/create`,
        fields: { name: `photo ${round.enclosure} ${id}.jpg`, text: dataUrl },
      },
      round: round.id,
      words: `Photo of ${spot}`,
    });
    await putNote({ round, spot, text: `photo, kept as file ${id}` });
  });
}
