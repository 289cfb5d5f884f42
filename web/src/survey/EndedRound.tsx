// After the round: what was read, and where to go on.
import { useLiveQuery } from 'dexie-react-hooks';
import { Link } from 'wouter';
import type { Round } from '../offline/database';
import { useUnsent } from '../offline/sendingHere';
import { Nothing } from '../parts/Waiting';
import classes from './ChoosePage.module.css';
import { valuesOf } from './round';

export function EndedRound({ round }: { round: Round }) {
  const rows = useLiveQuery(() => valuesOf(round.id), [round.id]);
  const { waiting } = useUnsent();
  return (
    <section aria-label="The round">
      <p>
        The survey has ended with {rows?.length ?? 0} {rows?.length === 1 ? 'value' : 'values'}.{' '}
        {waiting > 0
          ? 'They are safe on this device and go to the record as soon as it can be reached.'
          : 'All of it is in the record.'}
      </p>
      {rows?.length === 0 && <Nothing>Nothing was read.</Nothing>}
      <ul>
        {rows?.map((row) => (
          <li key={row.seq}>{row.words}</li>
        ))}
      </ul>
      <ul className={classes.list}>
        <li>
          <Link href="/survey" className={classes.place}>
            Another enclosure
          </Link>
        </li>
        <li>
          <Link href={`/collection/${encodeURIComponent(round.enclosure)}`} className={classes.place}>
            Its verdict and fixes
          </Link>
        </li>
      </ul>
    </section>
  );
}
