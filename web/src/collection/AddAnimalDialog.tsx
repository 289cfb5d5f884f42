// An animal, or a group kept as one, comes into the collection.
import { Autocomplete, NativeSelect, NumberInput, Textarea, TextInput } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useState } from 'react';
import { newKey, post } from '../api/client';
import { useSpeciesList } from '../api/queries';
import { useDoing } from '../api/record';
import type { Card, NewAnimal, Site, Species } from '../api/schema';
import { AskDialog } from '../parts/AskDialog';
import { todayIn } from '../parts/dayWords';
import formClasses from '../settings/Forms.module.css';
import { nameOf } from './glance';

const offered = 8;
const labelOf = (sheet: Species) =>
  sheet.common_names[0] ? `${sheet.common_names[0]}, ${sheet.scientific_name}` : sheet.scientific_name;

type Props = { site: Site; cards: readonly Card[]; onClose: () => void };

export function AddAnimalDialog({ site, cards, onClose }: Props) {
  const [key] = useState(newKey);
  const [species, setSpecies] = useState('');
  const [words] = useDebouncedValue(species.trim(), 150);
  const sheets = (useSpeciesList(words).data?.species ?? []).slice(0, offered);
  const [name, setName] = useState('');
  const [count, setCount] = useState<number | string>(1);
  const [sex, setSex] = useState<NonNullable<NewAnimal['sex']>>('unknown');
  const [came, setCame] = useState(todayIn(site.time_zone));
  const [enclosure, setEnclosure] = useState('');
  const [note, setNote] = useState('');
  const [chosen, setChosen] = useState<{ label: string; id: string } | null>(null);
  const add = useDoing(() =>
    post(
      '/api/animals',
      {
        site: site.id,
        species: chosen?.label === species ? chosen.id : species.trim(),
        count: Number(count),
        sex,
        ...(name.trim() !== '' ? { name: name.trim() } : {}),
        ...(came !== '' ? { came_on: came } : {}),
        ...(enclosure !== '' ? { enclosure } : {}),
        ...(note.trim() !== '' ? { note: note.trim() } : {}),
      },
      { key },
    ),
  );
  return (
    <AskDialog title="Add an animal" act="Add" onAct={() => add.mutateAsync(undefined)} onClose={onClose}>
      <Autocomplete
        label="Species"
        description="Common or scientific name; one without a sheet is kept by the name you write"
        required
        data={sheets.map(labelOf)}
        filter={({ options }) => options}
        comboboxProps={{ withinPortal: false }}
        value={species}
        onChange={(typed) => {
          setSpecies(typed);
          const sheet = sheets.find((one) => labelOf(one) === typed);
          if (sheet) setChosen({ label: typed, id: sheet.id });
        }}
      />
      <div className={formClasses.pair}>
        <TextInput label="Name" value={name} onChange={(event) => setName(event.currentTarget.value)} />
        <NumberInput
          label="How many"
          description="A group may be kept as one"
          min={1}
          max={100000}
          allowDecimal={false}
          required
          value={count}
          onChange={setCount}
        />
      </div>
      <div className={formClasses.pair}>
        <NativeSelect
          label="Sex"
          data={['unknown', 'female', 'male']}
          value={sex}
          onChange={(event) => setSex(event.currentTarget.value as typeof sex)}
        />
        <TextInput
          type="date"
          label="Came on"
          value={came}
          onChange={(event) => setCame(event.currentTarget.value)}
        />
      </div>
      <NativeSelect
        label="Enclosure"
        description="For the verdict, the enclosure’s model must name the species too"
        data={[
          { value: '', label: 'None yet' },
          ...cards.map((card) => ({ value: card.enclosure.id, label: nameOf(card) })),
        ]}
        value={enclosure}
        onChange={(event) => setEnclosure(event.currentTarget.value)}
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
