// A note on an animal or an enclosure, below those that were written before.
import { Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { newKey, post } from '../api/client';
import { useDoing, useThings } from '../api/record';
import type { Site } from '../api/schema';
import { AskDialog } from '../parts/AskDialog';
import { showDay, todayIn } from '../parts/dayWords';
import { Failure, Loading } from '../parts/Waiting';
import type { About } from './CollectionDialogs';
import classes from './NoteDialog.module.css';

const shown = 5;

function Earlier({ about: { about_kind, about }, site }: { about: About; site: Site }) {
  const { data, error, isPending } = useThings('notes', { site: site.id, about_kind, about });
  if (isPending) return <Loading what="earlier notes" lines={1} />;
  if (error) return <Failure error={error} />;
  const newest = [...data].sort((a, b) => b.written_on.localeCompare(a.written_on)).slice(0, shown);
  if (newest.length === 0) return null;
  return (
    <ul className={classes.earlier} aria-label="Earlier notes">
      {newest.map((note) => (
        <li key={note.id}>
          <time dateTime={note.written_on}>{showDay(note.written_on)}</time>
          <p>{note.text}</p>
        </li>
      ))}
    </ul>
  );
}

export function NoteDialog({ about, site, onClose }: { about: About; site: Site; onClose: () => void }) {
  const [key] = useState(newKey);
  const [day, setDay] = useState(todayIn(site.time_zone));
  const [text, setText] = useState('');
  const write = useDoing(() =>
    post(
      '/api/notes',
      {
        site: site.id,
        about_kind: about.about_kind,
        about: about.about,
        written_on: day,
        text: text.trim(),
      },
      { key },
    ),
  );
  return (
    <AskDialog
      title={`Note on ${about.name}`}
      act="Keep the note"
      onAct={() => write.mutateAsync(undefined)}
      onClose={onClose}
    >
      <Earlier about={about} site={site} />
      <Textarea
        label="Note"
        required
        autosize
        minRows={3}
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <TextInput
        type="date"
        label="Day it is about"
        required
        value={day}
        onChange={(event) => setDay(event.currentTarget.value)}
      />
    </AskDialog>
  );
}
