import { NativeSelect, NumberInput, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { newKey, post, put } from '../api/client';
import { useDoing } from '../api/record';
import type { Meter } from '../api/schema';
import { AskDialog } from '../parts/AskDialog';
import { onlySaid, said } from './fields';
import formClasses from './Forms.module.css';

export const measureWords: Record<Meter['measures'], string> = {
  uvi: 'UV index',
  erythemal_w_m2: 'Erythemal irradiance, W/m²',
  d3_w_m2: 'D3-effective irradiance, W/m²',
  actinic_w_m2: 'Actinic irradiance, W/m²',
  uvc_w_m2: 'UVC, W/m²',
  uvb_w_m2: 'UVB, W/m²',
  uva_w_m2: 'UVA, W/m²',
  lux: 'Visible light, lx',
  irradiance_w_m2: 'All light, W/m²',
  temperature: 'Temperature',
};

type Props = { site: string; meter?: Meter; onClose: () => void };

export function MeterDialog({ site, meter, onClose }: Props) {
  const [key] = useState(newKey);
  const [name, setName] = useState(meter?.name ?? '');
  const [measures, setMeasures] = useState(meter?.measures ?? 'uvi');
  const [model, setModel] = useState(meter?.model ?? '');
  const [serial, setSerial] = useState(meter?.serial ?? '');
  const [bought, setBought] = useState(meter?.bought_on ?? '');
  const [months, setMonths] = useState<number | string>(meter?.calibrate_every_months ?? '');
  const [note, setNote] = useState(meter?.note ?? '');
  const keep = useDoing(() => {
    const fields = onlySaid({
      name: name.trim(),
      measures,
      model: model.trim(),
      serial: serial.trim(),
      bought_on: bought,
      calibrate_every_months: said(months),
      note: note.trim(),
    });
    return meter
      ? put('/api/meters/{id}', fields, { id: meter.id, seen: meter.revision, key })
      : post('/api/meters', { site, ...fields }, { key });
  });
  return (
    <AskDialog
      title={meter ? `Change ${meter.name}` : 'A new meter'}
      act={meter ? 'Keep the changes' : 'Add the meter'}
      onAct={() => keep.mutateAsync(undefined)}
      onClose={onClose}
    >
      <TextInput
        label="Name"
        description="As it is called in your tables of readings"
        required
        value={name}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      <NativeSelect
        label="It shows"
        data={Object.entries(measureWords).map(([value, label]) => ({ value, label }))}
        value={measures}
        onChange={(event) => setMeasures(event.currentTarget.value as Meter['measures'])}
      />
      <div className={formClasses.pair}>
        <TextInput label="Model" value={model} onChange={(event) => setModel(event.currentTarget.value)} />
        <TextInput
          label="Serial number"
          value={serial}
          onChange={(event) => setSerial(event.currentTarget.value)}
        />
      </div>
      <div className={formClasses.pair}>
        <TextInput
          type="date"
          label="Bought on"
          value={bought}
          onChange={(event) => setBought(event.currentTarget.value)}
        />
        <NumberInput
          label="Calibrate every … months"
          description="12 where nothing is said"
          min={1}
          max={240}
          allowDecimal={false}
          value={months}
          onChange={setMonths}
        />
      </div>
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
