// Whose day: everybody's zones, a species, or an enclosure that stands outdoors.
import { SegmentedControl, Select } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useState } from 'react';
import { useSpeciesList } from '../api/queries';
import type { Enclosure } from '../api/schema';
import type { Fault, Whom } from './question';

type Props = {
  whom: Whom;
  pens: readonly Enclosure[]; // those that stand outdoors
  faults: readonly Fault[];
  onChange: (whom: Whom) => void;
};

const plainName = (id: string) => id.replaceAll('_', ' ');

function SpeciesChoice({ species, onChoose }: { species: string; onChoose: (species: string) => void }) {
  const [typed, setTyped] = useState('');
  const [words] = useDebouncedValue(typed.trim(), 150);
  const { data } = useSpeciesList(words);
  const options = (data?.species ?? []).slice(0, 40).map((sheet) => ({
    value: sheet.id,
    label: `${sheet.common_names[0] ?? sheet.scientific_name} (${sheet.scientific_name})`,
  }));
  if (species !== '' && !options.some(({ value }) => value === species))
    options.unshift({ value: species, label: plainName(species) });
  return (
    <Select
      label="Species"
      placeholder="Common or scientific name"
      searchable
      data={options}
      // The server has searched already, and forgives typing errors.
      filter={({ options: all }) => all}
      nothingFoundMessage="No sheet fits"
      value={species === '' ? null : species}
      onSearchChange={(text) => setTyped(text.replace(/ \(.*$/, ''))}
      onChange={(value) => onChoose(value ?? '')}
    />
  );
}

export function WhomChoice({ whom, pens, faults, onChange }: Props) {
  const fault = faults.find(({ field }) => field === 'whom');
  return (
    <>
      <SegmentedControl
        fullWidth
        size="sm"
        aria-label="Whose day"
        data={[
          { value: 'anybody', label: 'All zones' },
          { value: 'species', label: 'A species' },
          { value: 'enclosure', label: 'A pen outdoors', disabled: pens.length === 0 },
        ]}
        value={whom.kind}
        onChange={(kind) =>
          onChange(
            kind === 'species'
              ? { kind, species: '' }
              : kind === 'enclosure'
                ? { kind, id: pens[0]?.id ?? '' }
                : { kind: 'anybody' },
          )
        }
      />
      {whom.kind === 'species' && (
        <SpeciesChoice
          species={whom.species}
          onChoose={(species) => onChange({ kind: 'species', species })}
        />
      )}
      {whom.kind === 'enclosure' && (
        <Select
          label="Enclosure"
          data={pens.map((pen) => ({ value: pen.id, label: pen.name ?? pen.id }))}
          value={whom.id}
          allowDeselect={false}
          error={fault?.words}
          onChange={(id) => onChange({ kind: 'enclosure', id: id ?? '' })}
        />
      )}
    </>
  );
}
