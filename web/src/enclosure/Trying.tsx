import { Button } from '@mantine/core';
import type { Fix } from '../api/schema';
import classes from './EnclosureDesk.module.css';

type Props = { fix: Fix; onAccept: () => void; onPutBack: () => void };

export function Trying({ fix, onAccept, onPutBack }: Props) {
  return (
    <div className={classes.trying} role="status">
      <span>
        <b>Trying on:</b> {fix.words}
        <small>
          What stood elsewhere is drawn as a ghost. Switch lamps off and let them cool before moving them.
        </small>
      </span>
      <span className={classes.buttons}>
        <Button size="compact-sm" onClick={onAccept}>
          Accept
        </Button>
        <Button size="compact-sm" variant="default" onClick={onPutBack}>
          Put back
        </Button>
      </span>
    </div>
  );
}
