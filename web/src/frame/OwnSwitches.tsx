// A person's own units and colours, changed at once.
import { SegmentedControl } from '@mantine/core';
import { useId, type ReactNode } from 'react';
import { temperatureWords, type LengthUnit, type TemperatureUnit } from '../parts/units';
import classes from './OwnSwitches.module.css';
import { useOwnSettings, type OwnSettings } from './ownSettings';

function Row({ name, children }: { name: string; children: (labelledBy: string) => ReactNode }) {
  const id = useId();
  return (
    <div className={classes.row}>
      <span id={id}>{name}</span>
      {children(id)}
    </div>
  );
}

export function OwnSwitches() {
  const { settings, choose, isOnlyHere } = useOwnSettings();
  return (
    <div className={classes.switches}>
      <Row name="Lengths">
        {(id) => (
          <SegmentedControl
            aria-labelledby={id}
            data={[
              { value: 'cm', label: 'cm' },
              { value: 'in', label: 'inch' },
            ]}
            value={settings.length}
            onChange={(value) => choose({ length: value as LengthUnit })}
          />
        )}
      </Row>
      <Row name="Temperatures">
        {(id) => (
          <SegmentedControl
            aria-labelledby={id}
            data={[
              { value: 'c', label: temperatureWords.c },
              { value: 'f', label: temperatureWords.f },
            ]}
            value={settings.temperature}
            onChange={(value) => choose({ temperature: value as TemperatureUnit })}
          />
        )}
      </Row>
      <Row name="Colours">
        {(id) => (
          <SegmentedControl
            aria-labelledby={id}
            data={[
              { value: 'auto', label: 'As the device' },
              { value: 'light', label: 'Light' },
              { value: 'dark', label: 'Dark' },
            ]}
            value={settings.scheme}
            onChange={(value) => choose({ scheme: value as OwnSettings['scheme'] })}
          />
        )}
      </Row>
      {isOnlyHere && (
        <p className={classes.only} role="alert">
          The server did not take this; for now it holds on this device only.
        </p>
      )}
    </div>
  );
}
