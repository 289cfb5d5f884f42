// What is read, and with which meter; chosen once and remembered on this device.
import { Button, NativeSelect, SegmentedControl } from '@mantine/core';
import classes from './Remarks.module.css';
import { readQuantities, readWords } from './quantities';
import { useMeterChoice, useMeters } from './useKept';
import type { RoundHere } from './useRound';

export function MeterChoice({ here }: { here: RoundHere }) {
  const { quantity } = here;
  const meters = useMeters(quantity);
  const [meter, choose] = useMeterChoice(quantity);
  return (
    <div className={classes.remarks}>
      <SegmentedControl
        fullWidth
        size="lg"
        aria-label="What is read"
        data={readQuantities.map((value) => ({ value, label: readWords[value].name }))}
        value={quantity}
        onChange={(value) => here.set({ quantity: value, draft: '' })}
      />
      <NativeSelect
        label="Meter"
        size="lg"
        description={
          meters.length === 0 ? `No ${readWords[quantity].name} meter is in the record.` : undefined
        }
        data={[
          { value: '', label: 'Not said' },
          ...meters.map(({ id, name }) => ({ value: id, label: name })),
        ]}
        value={meters.some(({ id }) => id === meter) ? (meter ?? '') : ''}
        onChange={(event) => choose(event.currentTarget.value === '' ? null : event.currentTarget.value)}
      />
      <Button variant="default" size="lg" onClick={here.end}>
        End the survey here
      </Button>
    </div>
  );
}
