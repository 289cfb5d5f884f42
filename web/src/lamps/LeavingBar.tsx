// The coming year as a line, with the 90 % interval of the day on which a lamp leaves the band. Said in words beside it.
import type { Leaving } from '../api/schema';
import { daysBetween } from './days';
import classes from './LampsList.module.css';

const ahead_days = 365;
const place = (day: string, today: string) =>
  `${100 * Math.min(1, Math.max(0, daysBetween(today, day) / ahead_days))}%`;

export function LeavingBar({ leaving, today }: { leaving: Leaving | null; today: string }) {
  const early = leaving?.interval[0];
  const late = leaving?.interval[1];
  return (
    <svg className={classes.bar} width="100%" height="14" aria-hidden="true">
      <line className={classes.year} x1="0" x2="100%" y1="7" y2="7" />
      {[0, 25, 50, 75, 100].map((part) => (
        <line key={part} className={classes.year} x1={`${part}%`} x2={`${part}%`} y1="4" y2="10" />
      ))}
      {leaving && early && (
        <line
          className={classes.interval}
          x1={place(early, today)}
          x2={late ? place(late, today) : '100%'}
          y1="7"
          y2="7"
        />
      )}
      {leaving?.date && daysBetween(today, leaving.date) <= ahead_days && (
        <svg x={place(leaving.date, today)} y="7" overflow="visible">
          <path className={classes.date} d="M0 -6 L4 0 L0 6 L-4 0 Z" />
        </svg>
      )}
    </svg>
  );
}

export const LeavingScale = () => <span className={classes.scale}>lines run from today to a year on</span>;
