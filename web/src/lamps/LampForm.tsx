// A new lamp, or the facts of one put right.
import { NativeSelect, NumberInput, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { post, put } from '../api/client';
import { useDoing, useSites } from '../api/record';
import type { ChangedLamp, KeptLamp } from '../api/schema';
import { newId } from '../offline/ids';
import { DayInput, DeedForm, useKey } from './DeedForm';
import { kindWords, type LampKind } from './lampWords';
import { useSpectra } from './useLamps';

// What the record itself says of every thing; the rest are the lamp's fields.
const ofTheRecord = new Set(['kind', 'id', 'site', 'revision', 'made', 'changed', 'retired_at']);

const fieldsOf = (lamp: KeptLamp): ChangedLamp => ({
  ...Object.fromEntries(Object.entries(lamp).filter(([name]) => !ofTheRecord.has(name))),
  name: lamp.name,
});

const isSet = (value: unknown) => value !== undefined && value !== '';
const onlySet = (fields: ChangedLamp): ChangedLamp =>
  ({
    ...Object.fromEntries(Object.entries(fields).filter(([, value]) => isSet(value))),
    name: fields.name,
  }) as ChangedLamp;

const kinds = Object.entries(kindWords).map(([value, label]) => ({ value, label }));
const numberOf = (value: number | string) => (typeof value === 'number' ? value : undefined);

export function LampForm({ lamp, onDone }: { lamp?: KeptLamp; onDone: () => void }) {
  const sites = useSites();
  const spectra = useSpectra();
  const [site, setSite] = useState('');
  const [fields, setFields] = useState<ChangedLamp>(lamp ? fieldsOf(lamp) : { name: '' });
  const [id] = useState(() => newId());
  const key = useKey();
  const set = (change: Partial<ChangedLamp>) => setFields({ ...fields, ...change });
  const saving = useDoing(async () => {
    const body = onlySet({ ...fields, name: fields.name.trim() });
    if (lamp) await put('/api/lamps/{id}', body, { id: lamp.id, seen: lamp.revision, key });
    else
      await post(
        '/api/lamps',
        { ...body, id, site: site === '' ? (sites[0]?.site.id ?? '') : site },
        { key },
      );
  });
  const number = (name: 'power_w' | 'price' | 'hours_on' | 'hours_before', label: string, max: number) => (
    <NumberInput
      label={label}
      min={0}
      max={max}
      value={fields[name] ?? ''}
      onChange={(value) => set({ [name]: numberOf(value) })}
    />
  );
  return (
    <DeedForm
      submit={lamp ? 'Save' : 'Add it'}
      doing={saving}
      onSubmit={() => saving.mutate(undefined, { onSuccess: onDone })}
      onCancel={onDone}
    >
      <TextInput
        label="Name or label"
        required
        maxLength={200}
        value={fields.name}
        onChange={(event) => set({ name: event.currentTarget.value })}
      />
      {!lamp && sites.length > 1 && (
        <NativeSelect
          label="Site"
          data={sites.map(({ site: one }) => ({ value: one.id, label: one.name }))}
          value={site === '' ? (sites[0]?.site.id ?? '') : site}
          onChange={(event) => setSite(event.currentTarget.value)}
        />
      )}
      <NativeSelect
        label="How it makes its light or heat"
        data={[{ value: '', label: 'Not said' }, ...kinds]}
        value={fields.lamp_kind ?? ''}
        onChange={(event) => {
          const value = event.currentTarget.value;
          set({ lamp_kind: value === '' ? undefined : (value as LampKind) });
        }}
      />
      <TextInput
        label="What is printed on it"
        value={fields.model ?? ''}
        onChange={(event) => set({ model: event.currentTarget.value })}
      />
      <NativeSelect
        label="Spectrum"
        data={[
          { value: '', label: 'Not said' },
          ...(spectra.data ?? []).map((one) => ({ value: one.id, label: one.name })),
        ]}
        value={fields.spectrum ?? ''}
        onChange={(event) => set({ spectrum: event.currentTarget.value })}
      />
      {number('power_w', 'Power, W', 100_000)}
      {number('hours_on', 'Hours a day', 24)}
      {number('hours_before', 'Hours it had burned before', 1_000_000)}
      <DayInput
        label="Bought on"
        required={false}
        value={fields.bought_on ?? ''}
        onChange={(bought_on) => set({ bought_on })}
      />
      {number('price', 'Price', 1_000_000_000)}
      <Textarea
        label="Note"
        autosize
        value={fields.note ?? ''}
        onChange={(event) => set({ note: event.currentTarget.value })}
      />
    </DeedForm>
  );
}
