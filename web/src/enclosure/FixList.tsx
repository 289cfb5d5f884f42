// Fixes, cheapest first: what to do, what the meter reads before and after, and a way to see it before doing it.
import { Button } from '@mantine/core';
import type { Fix, Judgement } from '../api/schema';
import { RangeStrip } from '../parts/RangeStrip';
import { showValue } from '../parts/quantities';
import { Failure, Loading, Nothing } from '../parts/Waiting';
import { verdictParts } from '../parts/words';
import { readingAt } from './document';
import classes from './FixList.module.css';

type Props = {
  fixes: readonly Fix[] | undefined;
  error: Error | null;
  isWaiting: boolean;
  allHolds: boolean;
  onSearch: (() => void) | null; // there when the enclosure was changed since the last search
  tried: Fix | null;
  onTry: (fix: Fix) => void;
};

const minutes = (effort: number) => `about ${Math.max(1, Math.round(effort))} min of work`;

// Parts of any animal's verdict that do not hold.
function faultsOf(judgement: Judgement): string[] {
  const titles = judgement.animals.flatMap(({ verdict }) =>
    verdictParts.filter(({ part }) => verdict[part].holds === false).map(({ title }) => title.toLowerCase()),
  );
  return [...new Set(titles)];
}

function FixItem({ fix, isTried, onTry }: { fix: Fix; isTried: boolean; onTry: () => void }) {
  const remaining = faultsOf(fix.after);
  const changed = fix.before.spots.filter((spot) => {
    const after = readingAt(fix.after, spot.id);
    return after !== undefined && Math.abs(after - spot.uvi) > 0.02 * Math.max(0.05, spot.uvi);
  });
  const animal = fix.after.animals[0];
  const marks = fix.after.spots.map((spot) => ({ ...spot, state: animal?.states[spot.id] }));
  return (
    <li className={classes.fix} data-tried={isTried} data-testid="fix">
      <p className={classes.words}>{fix.words}</p>
      <RangeStrip band={animal?.band} ceiling={animal?.ceiling} marks={marks} axis={false} />
      {changed.length > 0 && (
        <table className={classes.readings}>
          <thead>
            <tr>
              <th scope="col">UVI</th>
              <th scope="col">before</th>
              <th scope="col">after</th>
            </tr>
          </thead>
          <tbody>
            {changed.map((spot) => (
              <tr key={spot.id}>
                <th scope="row">{spot.name}</th>
                <td>{showValue('uvi', spot.uvi)}</td>
                <td>{showValue('uvi', readingAt(fix.after, spot.id) ?? 0)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <div className={classes.foot}>
        <span>
          {minutes(fix.effort)}.{' '}
          {remaining.length === 0
            ? 'Every part of the verdict holds after it.'
            : `Still to put right: ${remaining.join(', ')}.`}
        </span>
        <Button
          size="compact-sm"
          variant={isTried ? 'filled' : 'default'}
          aria-pressed={isTried}
          onClick={onTry}
        >
          {isTried ? 'Take off' : 'Try on'}
        </Button>
      </div>
    </li>
  );
}

export function FixList({ fixes, error, isWaiting, allHolds, onSearch, tried, onTry }: Props) {
  if (onSearch) {
    return (
      <>
        <Nothing>The enclosure was changed since fixes were looked for.</Nothing>
        <Button mt="xs" size="compact-sm" variant="default" onClick={onSearch}>
          Look for fixes
        </Button>
      </>
    );
  }
  if (error) return <Failure error={error} />;
  if (isWaiting || !fixes) return <Loading what="fixes" lines={4} />;
  if (fixes.length === 0)
    return (
      <Nothing>
        {allHolds
          ? 'Nothing to change: every part of the verdict holds.'
          : 'No change that Dapple knows, alone or with another, would put this right without spoiling something else.'}
      </Nothing>
    );
  return (
    <>
      <p className={classes.caution}>
        Switch off and let cool before moving anything. Keep fittings fixed and guards in place; mains work is
        for a licensed electrician.
      </p>
      <ul className={classes.list}>
        {fixes.map((fix) => (
          <FixItem key={fix.words} fix={fix} isTried={fix === tried} onTry={() => onTry(fix)} />
        ))}
      </ul>
    </>
  );
}
