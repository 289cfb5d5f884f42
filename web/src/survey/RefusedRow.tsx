// A write the record will not have as it is: why, and its fields to mend.
import { Button, TextInput } from '@mantine/core';
import { useState, type SyntheticEvent } from 'react';
import type { Fields, Json, Row } from '../offline/database';
import { mend, putAside, tryAgain } from '../offline/outbox';
import classes from './WaitingPage.module.css';

// A picture is not mended by hand, and neither are marks that only the program reads.
const isMendable = (value: Json | undefined): value is string | number =>
  (typeof value === 'string' && value.length < 2000) || typeof value === 'number';

const labels: Readonly<Record<string, string>> = {
  value: 'Value',
  spot: 'Spot',
  note: 'Note',
  text: 'Text',
  enclosure: 'Enclosure',
  quantity: 'Quantity',
  meter: 'Meter',
  taken_at: 'Taken at',
  begun_at: 'Begun at',
  ended_at: 'Ended at',
};

// As typed; an emptied field is left out, a number stays a number.
function mended(before: Fields, typed: Readonly<Record<string, string>>): Fields | null {
  const entries = Object.entries(before).flatMap(([name, value]): [string, Json][] => {
    const text = typed[name];
    if (text === undefined) return [[name, value]];
    if (text.trim() === '') return [];
    return [[name, typeof value === 'number' ? Number(text.replace(',', '.')) : text]];
  });
  const isWhole = entries.every(([, value]) => typeof value !== 'number' || Number.isFinite(value));
  return isWhole ? Object.fromEntries(entries) : null;
}

const textOf = (value: Json | undefined): string => (isMendable(value) ? String(value) : '');

export function RefusedRow({ row }: { row: Row }) {
  const fields = row.write.fields ?? {};
  const names = Object.keys(labels).filter((name) => isMendable(fields[name]));
  const [typed, setTyped] = useState<Record<string, string>>({});
  const [isOpen, setOpen] = useState(false);
  const [fault, setFault] = useState('');
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    const after = mended(fields, typed);
    if (after) void mend(row.seq, after, `${row.words}, mended`);
    else setFault('A number is needed where there was one.');
  };
  return (
    <article className={classes.refused} aria-label={row.words}>
      <span>{row.words}</span>
      <time dateTime={row.made_at}>{new Date(row.made_at).toLocaleString('en-GB')}</time>
      <span className={classes.problem}>{row.problem}</span>
      <div className={classes.deeds}>
        <Button variant="default" onClick={() => void tryAgain([row.seq])}>
          Try again
        </Button>
        {names.length > 0 && (
          <Button variant="default" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
            Mend
          </Button>
        )}
        {row.state === 'refused' && (
          <Button variant="default" onClick={() => void putAside(row.seq)}>
            Set aside
          </Button>
        )}
      </div>
      {isOpen && (
        <form onSubmit={submit} className={classes.mending}>
          {names.map((name) => (
            <TextInput
              key={name}
              label={labels[name]}
              value={typed[name] ?? textOf(fields[name])}
              onChange={(event) => setTyped({ ...typed, [name]: event.currentTarget.value })}
            />
          ))}
          {fault !== '' && <p role="alert">{fault}</p>}
          <Button type="submit">Send as mended</Button>
        </form>
      )}
    </article>
  );
}
