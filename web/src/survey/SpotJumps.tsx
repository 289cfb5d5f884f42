// Every spot in the order of walking, to jump to; those already read are dimmed.
import classes from './SpotSteps.module.css';
import { spotName, type RoundHere } from './useRound';

export function SpotJumps({ here }: { here: RoundHere }) {
  const { walk, spot, done } = here;
  return (
    <nav aria-label="Spots in the order of walking">
      <ol className={classes.all}>
        {walk.map((one) => (
          <li key={one.id}>
            <button
              type="button"
              className={classes.spot}
              data-done={String(done.has(one.id))}
              aria-current={one.id === spot.id ? 'step' : undefined}
              onClick={() => here.go(one)}
            >
              {spotName(one)}
              {done.has(one.id) && <span className={classes.tick}> read</span>}
            </button>
          </li>
        ))}
      </ol>
    </nav>
  );
}
