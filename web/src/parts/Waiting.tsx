// What stands where an answer is not there: still coming, refused, or nothing to show.
import { Button, Skeleton } from '@mantine/core';
import type { ReactNode } from 'react';
import { Refusal } from '../api/client';
import classes from './Waiting.module.css';

export function Loading({ what, lines = 3 }: { what: string; lines?: number }) {
  return (
    <div role="status" aria-label={`Loading ${what}`} className={classes.loading}>
      {Array.from({ length: lines }, (_, i) => (
        <Skeleton key={i} height={18} width={`${100 - 14 * (i % 3)}%`} />
      ))}
    </div>
  );
}

export function Failure({ error, retry }: { error: Error; retry?: (() => void) | undefined }) {
  const problems = error instanceof Refusal ? (error.details?.problems ?? []) : [];
  const heading =
    error instanceof Refusal
      ? (error.details?.title ?? error.message)
      : 'Dapple does not answer. Is it still running?';
  return (
    <div role="alert" className={classes.failure}>
      <strong>{heading}</strong>
      {problems.length > 0 && (
        <ul>
          {problems.map((p) => (
            <li key={p.place + p.found}>
              {p.place !== '' && <code>{p.place}</code>} has {p.found}; it may be {p.allowed}.
            </li>
          ))}
        </ul>
      )}
      {retry && (
        <Button variant="default" size="xs" onClick={retry}>
          Try again
        </Button>
      )}
    </div>
  );
}

export function Nothing({ children }: { children: ReactNode }) {
  return <p className={classes.nothing}>{children}</p>;
}
