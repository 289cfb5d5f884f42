// Putting a lamp somewhere, and taking it away.
import { NativeSelect, TextInput } from '@mantine/core';
import { useState } from 'react';
import { post } from '../api/client';
import { useDoing } from '../api/record';
import type { KeptLamp } from '../api/schema';
import { DayInput, DeedForm, useKey } from './DeedForm';
import { isoDay } from './days';
import type { Lamps } from './useLamps';

type Of = { lamp: KeptLamp; onDone: () => void };

const noteOf = (note: string) => (note.trim() === '' ? {} : { note: note.trim() });

export function PlaceForm({ lamp, all, onDone }: Of & { all: Lamps }) {
  const [enclosure, setEnclosure] = useState(lamp.enclosure ?? all.enclosures[0]?.id ?? '');
  const [place, setPlace] = useState('');
  const [day, setDay] = useState(isoDay(new Date()));
  const [note, setNote] = useState('');
  const key = useKey();
  const placing = useDoing(() =>
    post(
      '/api/lamps/{id}/place',
      { enclosure, day, ...(place === '' ? {} : { place }), ...noteOf(note) },
      { id: lamp.id, seen: lamp.revision, key },
    ),
  );
  const lamps = all.enclosures.find(({ id }) => id === enclosure)?.document.lamps ?? [];
  return (
    <DeedForm
      submit={lamp.enclosure === undefined ? 'Put it there' : 'Move it'}
      doing={placing}
      onSubmit={() => placing.mutate(undefined, { onSuccess: onDone })}
      onCancel={onDone}
    >
      <NativeSelect
        label="Enclosure"
        data={all.enclosures.map(({ id, document }) => ({ value: id, label: document.name ?? id }))}
        value={enclosure}
        onChange={(event) => {
          setEnclosure(event.currentTarget.value);
          setPlace('');
        }}
      />
      <NativeSelect
        label="As which lamp of its model"
        data={[
          { value: '', label: 'None of them' },
          ...lamps.map(({ id, name }) => ({ value: id, label: name ?? id })),
        ]}
        value={place}
        onChange={(event) => setPlace(event.currentTarget.value)}
      />
      <DayInput label="Day" value={day} onChange={setDay} />
      <TextInput label="Note" value={note} onChange={(event) => setNote(event.currentTarget.value)} />
    </DeedForm>
  );
}

const awayWords = { remove: 'Put it into store', discard: 'Discard it for good' } as const;

export function AwayForm({ lamp, what, onDone }: Of & { what: keyof typeof awayWords }) {
  const [day, setDay] = useState(isoDay(new Date()));
  const [note, setNote] = useState('');
  const key = useKey();
  const going = useDoing(() =>
    post(`/api/lamps/{id}/${what}`, { day, ...noteOf(note) }, { id: lamp.id, seen: lamp.revision, key }),
  );
  return (
    <DeedForm
      submit={awayWords[what]}
      doing={going}
      onSubmit={() => going.mutate(undefined, { onSuccess: onDone })}
      onCancel={onDone}
    >
      <DayInput label="Day" value={day} onChange={setDay} />
      <TextInput
        label="Note"
        placeholder={what === 'discard' ? 'Broken, or at the end of its life' : undefined}
        value={note}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
    </DeedForm>
  );
}
