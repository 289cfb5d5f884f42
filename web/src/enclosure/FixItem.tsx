// One fix: what to do, what the meter reads before and after at each spot, and a way to see it before doing it.
import { Button } from '@mantine/core';
import type { Fix, Judgement, SpotReading, State } from '../api/schema';
import { RangeStrip } from '../parts/RangeStrip';
import { showValue } from '../parts/quantities';
import { stateWords, verdictParts } from '../parts/words';
import classes from './FixList.module.css';

type Props = {
  fix: Fix;
  isTried: boolean;
  isKept: boolean; // as a task
  canWrite: boolean;
  onTry: () => void;
  onAccept: () => void;
  onKeep: () => void;
};

const minutes = (effort: number) => `about ${Math.max(1, Math.round(effort))} min of work`;

// Parts of any animal's verdict that do not hold.
function faultsOf(judgement: Judgement): string[] {
  const titles = judgement.animals.flatMap(({ verdict }) =>
    verdictParts.filter(({ part }) => verdict[part].holds === false).map(({ title }) => title.toLowerCase()),
  );
  return [...new Set(titles)];
}

const isOther = (a: SpotReading, b: SpotReading) => Math.abs(a.uvi - b.uvi) > 0.02 * Math.max(0.05, a.uvi);

const stateAt = (judgement: Judgement, id: string): State | undefined =>
  judgement.animals.find(({ states }) => id in states)?.states[id];

function valueWords(judgement: Judgement, spot: SpotReading): string {
  const state = stateAt(judgement, spot.id);
  const interval = spot.interval ? ` (${spot.interval.map((uvi) => showValue('uvi', uvi)).join('–')})` : '';
  return `${showValue('uvi', spot.uvi)}${interval}${state ? `, ${stateWords[state]}` : ''}`;
}

function BeforeAndAfter({ fix }: { fix: Fix }) {
  const pairs = fix.before.spots.flatMap((before) => {
    const after = fix.after.spots.find(({ id }) => id === before.id);
    return after && isOther(before, after) ? [{ before, after }] : [];
  });
  if (pairs.length === 0) return null;
  return (
    <table className={classes.readings}>
      <thead>
        <tr>
          <th scope="col">UVI</th>
          <th scope="col">before</th>
          <th scope="col">after</th>
        </tr>
      </thead>
      <tbody>
        {pairs.map(({ before, after }) => (
          <tr key={before.id}>
            <th scope="row">{before.name}</th>
            <td>{valueWords(fix.before, before)}</td>
            <td>{valueWords(fix.after, after)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function outcome(fix: Fix): string {
  const remaining = fix.remaining ?? faultsOf(fix.after);
  const parts = [minutes(fix.effort) + '.'];
  parts.push(
    remaining.length === 0
      ? 'Every part of the verdict holds after it.'
      : `Still to put right: ${remaining.join(', ')}.`,
  );
  const { probability } = fix;
  if (probability !== undefined && probability > 0 && probability < 1)
    parts.push(`It works with a probability of ${Math.round(100 * probability)} %.`);
  return parts.join(' ');
}

export function FixItem({ fix, isTried, isKept, canWrite, onTry, onAccept, onKeep }: Props) {
  const animal = fix.after.animals[0];
  const marks = fix.after.spots.map((spot) => ({ ...spot, state: animal?.states[spot.id] }));
  const warnings = [...(fix.worsened ?? []), ...(fix.warmed ?? [])];
  return (
    <li className={classes.fix} data-tried={isTried} data-testid="fix">
      <p className={classes.words}>{fix.words}</p>
      <RangeStrip band={animal?.band} ceiling={animal?.ceiling} marks={marks} axis={false} />
      <BeforeAndAfter fix={fix} />
      {warnings.length > 0 && (
        <ul className={classes.warnings}>
          {warnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      )}
      <p className={classes.foot}>{outcome(fix)}</p>
      <div className={classes.deeds}>
        <Button
          size="compact-sm"
          variant={isTried ? 'filled' : 'default'}
          aria-pressed={isTried}
          onClick={onTry}
        >
          {isTried ? 'Take off' : 'Try on'}
        </Button>
        <Button size="compact-sm" variant="default" onClick={onAccept}>
          Accept
        </Button>
        {canWrite && (
          <Button size="compact-sm" variant="default" disabled={isKept} onClick={onKeep}>
            {isKept ? 'Kept as a task' : 'Keep as a task'}
          </Button>
        )}
      </div>
    </li>
  );
}
