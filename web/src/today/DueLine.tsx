// One thing that needs doing: what, why, since when, and the action that settles it.
import { Button } from '@mantine/core';
import { Link } from 'wouter';
import type { Due } from '../api/schema';
import { showDay, withDaysInWords } from '../parts/dayWords';
import classes from './TodayPage.module.css';
import { whenWords } from './urgency';

type Props = { due: Due; mayAct: boolean; where: string | null; onSettle: (due: Due) => void };

const acts: Record<Due['settling'], string> = {
  survey_enclosure: 'Survey it',
  replace_lamp: 'Replace it',
  calibrate_meter: 'Enter calibration',
  settle_task: 'Settle it',
};

function Action({ due, onSettle }: Pick<Props, 'due' | 'onSettle'>) {
  const place = {
    survey_enclosure: '/survey',
    replace_lamp: '/lamps',
    calibrate_meter: null,
    settle_task: null,
  };
  const screen = place[due.settling];
  const name = acts[due.settling];
  const label = `${name}: ${due.title}`;
  return screen === null ? (
    <Button aria-label={label} onClick={() => onSettle(due)}>
      {name}
    </Button>
  ) : (
    <Button component={Link} href={`${screen}/${encodeURIComponent(due.thing)}`} aria-label={label}>
      {name}
    </Button>
  );
}

export function DueLine({ due, mayAct, where, onSettle }: Props) {
  return (
    <li className={classes.line}>
      <div className={classes.what}>
        <h3>{due.title}</h3>
        <p>
          {withDaysInWords(due.why)}
          {due.enclosure !== null && due.kind !== 'survey' && where !== null && (
            <>
              {' In '}
              <Link href={`/collection/${encodeURIComponent(due.enclosure)}`}>{where}</Link>.
            </>
          )}
        </p>
      </div>
      <span className={classes.when} data-over={due.days_over > 0} title={showDay(due.due)}>
        {whenWords(due.days_over)}
      </span>
      {mayAct && <Action due={due} onSettle={onSettle} />}
    </li>
  );
}
