// Waiting that says so: nothing for half a second, then what is being done and for how long, then a way out of it.
import { Button, Loader } from '@mantine/core';
import { useEffect, useState } from 'react';
import classes from './Progress.module.css';

const quiet_s = 0.5;
const patient_s = 2;

function useSeconds(): number {
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    const start = performance.now();
    const timer = setInterval(() => setSeconds((performance.now() - start) / 1000), 250);
    return () => clearInterval(timer);
  }, []);
  return seconds;
}

export function Progress({ what, onCancel }: { what: string; onCancel?: () => void }) {
  const seconds = useSeconds();
  return (
    <div className={classes.progress}>
      <span role="status" aria-label={`Waiting: ${what}`} className={classes.words}>
        {seconds >= quiet_s && (
          <>
            <Loader size="xs" type="dots" aria-hidden="true" /> {what}…
          </>
        )}
      </span>
      {seconds >= patient_s && <span className={classes.seconds}>{Math.floor(seconds)} s</span>}
      {seconds >= patient_s && onCancel && (
        <Button size="compact-sm" variant="default" onClick={onCancel}>
          Cancel
        </Button>
      )}
    </div>
  );
}
