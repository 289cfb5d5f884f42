// A meter was compared: true value = reading × factor + offset.
import { NumberInput, TextInput } from '@mantine/core';
import { useState } from 'react';
import { newKey, post } from '../api/client';
import { useDoing } from '../api/record';
import { AskDialog } from '../parts/AskDialog';
import { todayIn } from '../parts/dayWords';
import classes from './Forms.module.css';

type Props = {
  meter: { id: string; site: string; name: string };
  zone?: string | undefined;
  onClose: (isDone: boolean) => void;
};

export function CalibrateDialog({ meter, zone, onClose }: Props) {
  const [key] = useState(newKey);
  const [day, setDay] = useState(todayIn(zone));
  const [factor, setFactor] = useState<number | string>(1);
  const [offset, setOffset] = useState<number | string>('');
  const [certificate, setCertificate] = useState('');
  const calibrate = useDoing(() =>
    post(
      '/api/calibrations',
      {
        site: meter.site,
        meter: meter.id,
        calibrated_on: day,
        factor: Number(factor),
        ...(offset !== '' ? { offset_by: Number(offset) } : {}),
        ...(certificate.trim() !== '' ? { certificate: certificate.trim() } : {}),
      },
      { key },
    ),
  );
  return (
    <AskDialog
      title={`Calibration of ${meter.name}`}
      act="Keep the calibration"
      onAct={() => calibrate.mutateAsync(undefined)}
      onClose={onClose}
    >
      <TextInput
        type="date"
        label="Day it was compared"
        required
        value={day}
        onChange={(event) => setDay(event.currentTarget.value)}
      />
      <div className={classes.pair}>
        <NumberInput
          label="Factor"
          description="True value for each unit the meter shows"
          required
          min={0.01}
          max={100}
          step={0.01}
          decimalScale={4}
          value={factor}
          onChange={setFactor}
        />
        <NumberInput
          label="Offset"
          description="Added afterwards; mostly for thermometers"
          decimalScale={4}
          value={offset}
          onChange={setOffset}
        />
      </div>
      <TextInput
        label="Certificate"
        description="Its number, or by whom and against what"
        value={certificate}
        onChange={(event) => setCertificate(event.currentTarget.value)}
      />
      <p className={classes.hint}>
        From this day on, readings of this meter count as reading × {factor === '' ? 'factor' : factor}
        {offset !== '' && Number(offset) !== 0 ? ` + ${offset}` : ''}. Earlier readings stay as they were.
      </p>
    </AskDialog>
  );
}
