// Notes on a lamp.
import { Textarea } from '@mantine/core';
import { useState } from 'react';
import { newKey, post } from '../api/client';
import { useDoing, useThings } from '../api/record';
import type { KeptLamp } from '../api/schema';
import { Panel } from '../parts/Panel';
import { DeedForm } from './DeedForm';
import { isoDay, showDay } from './days';
import classes from './LampPage.module.css';

export function LampNotes({ lamp }: { lamp: KeptLamp }) {
  const { data } = useThings('notes', { about: lamp.id });
  const [text, setText] = useState('');
  const [key, setKey] = useState(newKey);
  const noting = useDoing(() =>
    post(
      '/api/notes',
      {
        site: lamp.site ?? '',
        about_kind: 'lamp',
        about: lamp.id,
        written_on: isoDay(new Date()),
        text: text.trim(),
      },
      { key },
    ),
  );
  const done = () => {
    setText('');
    setKey(newKey());
  };
  return (
    <Panel title="Notes">
      <ul className={classes.words}>
        {data?.map((note) => (
          <li key={note.id}>
            {showDay(note.written_on)}: {note.text}
          </li>
        ))}
      </ul>
      <DeedForm
        submit="Keep the note"
        doing={noting}
        onSubmit={() => noting.mutate(undefined, { onSuccess: done })}
        onCancel={() => setText('')}
      >
        <Textarea
          label="A new note"
          required
          autosize
          value={text}
          onChange={(event) => setText(event.currentTarget.value)}
        />
      </DeedForm>
    </Panel>
  );
}
