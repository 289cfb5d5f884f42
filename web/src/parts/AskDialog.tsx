// A few questions and the one button that does it. It stays open, with what was typed, until the server has done it.
import { Button } from '@mantine/core';
import { useState, type ReactNode, type SyntheticEvent } from 'react';
import { Refusal } from '../api/client';
import classes from './AskDialog.module.css';
import { Sheet } from './Sheet';
import { Failure } from './Waiting';

type Props = {
  title: string;
  act: string; // the button's word: "Move", "Add"
  onAct: () => Promise<unknown>;
  onClose: (isDone: boolean) => void;
  children: ReactNode;
};

export function AskDialog({ title, act, onAct, onClose, children }: Props) {
  const [isDoing, setDoing] = useState(false);
  const [error, setError] = useState<Error | null>(null);
  async function submit(event: SyntheticEvent) {
    event.preventDefault();
    setDoing(true);
    setError(null);
    try {
      await onAct();
      onClose(true);
    } catch (refused) {
      setError(refused instanceof Error ? refused : new Error(String(refused)));
      setDoing(false);
    }
  }
  return (
    <Sheet title={title} onClose={() => onClose(false)}>
      <form className={classes.form} onSubmit={(event) => void submit(event)}>
        {children}
        {error && <Refused error={error} />}
        <div className={classes.buttons}>
          <Button variant="default" onClick={() => onClose(false)}>
            Cancel
          </Button>
          <Button type="submit" loading={isDoing}>
            {act}
          </Button>
        </div>
      </form>
    </Sheet>
  );
}

// Somebody else was faster: what they wrote stands, and doing it again goes on from there.
export function Refused({ error }: { error: Error }) {
  if (error instanceof Refusal && error.status === 412) {
    return (
      <p role="alert" className={classes.conflict}>
        Somebody changed this meanwhile, and their change stands. Close this, look at how it is now, and do it
        again if it is still wanted.
      </p>
    );
  }
  return <Failure error={error} />;
}
