// An animal goes to another enclosure, or out of the collection's enclosures.
import { NativeSelect, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { newKey, post } from '../api/client';
import { useDoing } from '../api/record';
import type { Card, KeptAnimal, Site } from '../api/schema';
import { AskDialog } from '../parts/AskDialog';
import { todayIn } from '../parts/dayWords';
import { nameOf } from './glance';

type Props = { animal: KeptAnimal; site: Site; cards: readonly Card[]; onClose: () => void };

const out = '/out'; // of the enclosures: a clinic, another keeper. No id has a slash.

export function MoveDialog({ animal, site, cards, onClose }: Props) {
  const [key] = useState(newKey);
  const [to, setTo] = useState('');
  const [day, setDay] = useState(todayIn(site.time_zone));
  const [note, setNote] = useState('');
  const move = useDoing(() =>
    post(
      '/api/animals/{id}/move',
      { to: to === out ? null : to, day, ...(note.trim() !== '' ? { note: note.trim() } : {}) },
      { id: animal.id, seen: animal.revision, key },
    ),
  );
  const places = cards
    .filter((card) => card.enclosure.id !== animal.enclosure)
    .map((card) => ({ value: card.enclosure.id, label: nameOf(card) }));
  return (
    <AskDialog
      title={`Move ${animal.name ?? animal.species.replaceAll('_', ' ')}`}
      act="Move"
      onAct={() => move.mutateAsync(undefined)}
      onClose={onClose}
    >
      <NativeSelect
        label="To"
        required
        value={to}
        onChange={(event) => setTo(event.currentTarget.value)}
      >
        <option value="" disabled>
          Choose where to
        </option>
        {places.map(({ value, label }) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
        <option value={out}>Out of the collection’s enclosures</option>
      </NativeSelect>
      <TextInput
        type="date"
        label="Day"
        required
        value={day}
        onChange={(event) => setDay(event.currentTarget.value)}
      />
      <Textarea
        label="Note"
        autosize
        minRows={2}
        value={note}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
    </AskDialog>
  );
}
