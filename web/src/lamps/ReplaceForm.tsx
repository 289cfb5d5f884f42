// Another lamp takes this one's place: one from store, or one that is bought now. The old one is discarded.
import { NativeSelect, NumberInput, TextInput } from '@mantine/core';
import { useState } from 'react';
import { post } from '../api/client';
import { useDoing } from '../api/record';
import type { KeptLamp } from '../api/schema';
import { newId } from '../offline/ids';
import { isoDay } from './days';
import { DayInput, DeedForm, useKey } from './DeedForm';
import { standingOf } from './lampWords';
import { sortOf } from './shopping';
import type { Lamps } from './useLamps';

const bought = '';

// What a new lamp of the same sort has in common with the old one.
const likeness = ({ lamp_kind, model, spectrum, power_w, hours_on }: KeptLamp) => ({
  ...(lamp_kind !== undefined ? { lamp_kind } : {}),
  ...(model !== undefined ? { model } : {}),
  ...(spectrum !== undefined ? { spectrum } : {}),
  ...(power_w !== undefined ? { power_w } : {}),
  ...(hours_on !== undefined ? { hours_on } : {}),
});

export function ReplaceForm({ lamp, all, onDone }: { lamp: KeptLamp; all: Lamps; onDone: () => void }) {
  const isAlike = (one: KeptLamp) => sortOf(one) === sortOf(lamp);
  const store = all.lamps
    .filter((one) => standingOf(one) === 'in store' && one.site === lamp.site)
    .sort((a, b) => Number(isAlike(b)) - Number(isAlike(a)));
  const [chosen, choose] = useState(store[0]?.id ?? bought);
  const [name, setName] = useState('');
  const [price, setPrice] = useState<number | string>(lamp.price ?? '');
  const [day, setDay] = useState(isoDay(new Date()));
  const [newLampId] = useState(() => newId());
  const key = useKey();
  const makeNew = () =>
    post(
      '/api/lamps',
      {
        id: newLampId,
        site: lamp.site ?? '',
        name: name.trim(),
        bought_on: day,
        ...likeness(lamp),
        ...(typeof price === 'number' ? { price } : {}),
      },
      { key: `${key}/make` },
    );
  const replacing = useDoing(async () => {
    const next = all.lamps.find(({ id }) => id === chosen) ?? (await makeNew());
    await post(
      '/api/lamps/{id}/replace',
      { new_lamp: next.id, new_seen: next.revision, day },
      { id: lamp.id, seen: lamp.revision, key },
    );
  });
  return (
    <DeedForm
      submit="Replace it"
      doing={replacing}
      onSubmit={() => replacing.mutate(undefined, { onSuccess: onDone })}
      onCancel={onDone}
    >
      <NativeSelect
        label="By"
        description={`${lamp.name} is discarded.`}
        data={[
          ...store.map((one) => ({
            value: one.id,
            label: `${one.name}, from store${isAlike(one) ? '' : ` (another sort: ${sortOf(one)})`}`,
          })),
          { value: bought, label: 'A new lamp of the same sort' },
        ]}
        value={chosen}
        onChange={(event) => choose(event.currentTarget.value)}
      />
      {chosen === bought && (
        <>
          <TextInput
            label="Name or label of the new lamp"
            required
            value={name}
            onChange={(event) => setName(event.currentTarget.value)}
          />
          <NumberInput label="Price" min={0} value={price} onChange={setPrice} />
        </>
      )}
      <DayInput label="Day" value={day} onChange={setDay} />
    </DeedForm>
  );
}
