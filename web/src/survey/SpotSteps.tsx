// Where one stands on the walk, and the way on and back.
import classes from './SpotSteps.module.css';
import { spotName, type RoundHere } from './useRound';

const roles = { bask: 'to bask', retreat: 'a retreat', other: '' } as const;

export function SpotSteps({ here }: { here: RoundHere }) {
  const { walk, at, spot } = here;
  const before = walk[at - 1];
  const after = walk[at + 1];
  const role = roles[spot.role ?? 'other'];
  return (
    <nav aria-label="The walk" className={classes.steps}>
      <button
        type="button"
        className={classes.step}
        aria-label={before ? `Back to ${spotName(before)}` : 'This is the first spot'}
        disabled={!before}
        onClick={() => before && here.go(before)}
      >
        <svg viewBox="0 0 16 16" width="18" height="18" aria-hidden="true">
          <path d="M10.5 2.5 5 8l5.5 5.5" fill="none" stroke="currentColor" strokeWidth="2" />
        </svg>
      </button>
      <div className={classes.here}>
        <h2>{spotName(spot)}</h2>
        <p>
          {at + 1} of {walk.length}
          {role !== '' && `, ${role}`}
        </p>
      </div>
      <button
        type="button"
        className={classes.step}
        aria-label={after ? `On to ${spotName(after)}` : 'This is the last spot'}
        disabled={!after}
        onClick={() => after && here.go(after)}
      >
        <svg viewBox="0 0 16 16" width="18" height="18" aria-hidden="true">
          <path d="M5.5 2.5 11 8l-5.5 5.5" fill="none" stroke="currentColor" strokeWidth="2" />
        </svg>
      </button>
    </nav>
  );
}
