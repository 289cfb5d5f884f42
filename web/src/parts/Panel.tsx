import type { ReactNode } from 'react';
import classes from './Panel.module.css';

// A titled part of a screen.
export function Panel({ title, aside, children }: { title: string; aside?: ReactNode; children: ReactNode }) {
  return (
    <section className={classes.panel} aria-label={title}>
      <div className={classes.head}>
        <h2>{title}</h2>
        {aside}
      </div>
      {children}
    </section>
  );
}
