// A forecast from a file takes the place of the model for the hours it names.
import { Button, FileButton } from '@mantine/core';
import { useState } from 'react';
import type { Form } from './question';
import classes from './SunForm.module.css';

const mostBytes = 1 << 20;

type Props = { forecast: Form['forecast']; onChange: (forecast: Form['forecast']) => void };

export function ForecastChoice({ forecast, onChange }: Props) {
  const [isTooLarge, setTooLarge] = useState(false);
  const read = async (file: File | null) => {
    if (!file) return;
    setTooLarge(file.size > mostBytes);
    if (file.size <= mostBytes) onChange({ name: file.name, text: await file.text() });
  };
  return (
    <>
      <div className={classes.forecast}>
        <FileButton accept=".csv,.json,text/csv,application/json" onChange={(file) => void read(file)}>
          {(props) => (
            <Button {...props} variant="default" size="xs">
              {forecast ? 'Another forecast file' : 'Forecast from a file'}
            </Button>
          )}
        </FileButton>
        {forecast && (
          <>
            <span>{forecast.name}</span>
            <Button variant="subtle" size="xs" onClick={() => onChange(null)}>
              Back to the model
            </Button>
          </>
        )}
      </div>
      {isTooLarge && <p role="alert">That file is larger than 1 MB; a day’s forecast is a few lines.</p>}
      <details className={classes.example}>
        <summary>What such a file looks like</summary>
        <pre>{'time,uvi\n2026-06-21T12:00,5.9\n2026-06-21T13:00,6.4'}</pre>
        Times by the clock of the place, or with an offset such as +02:00. Up to three hours apart they are
        joined; beyond them the model goes on.
      </details>
    </>
  );
}
