// Lamps in a keeper's words.
import type { Comparison, KeptLamp, LampForecast, LampLife } from '../api/schema';
import { showDay } from './days';

export type LampKind = NonNullable<KeptLamp['lamp_kind']>;
export const kindWords: Record<LampKind, string> = {
  fluorescent_tube: 'Fluorescent tube',
  compact: 'Compact fluorescent',
  mercury_vapour: 'Mercury vapour',
  metal_halide: 'Metal halide',
  led: 'LED',
  halogen: 'Halogen',
  incandescent: 'Incandescent',
  heat_lamp: 'Heat lamp',
  emitter: 'Heat emitter',
};

export type Standing = 'standing' | 'in store' | 'retired';
export function standingOf(lamp: KeptLamp): Standing {
  if (lamp.retired_on !== undefined) return 'retired';
  return lamp.enclosure !== undefined ? 'standing' : 'in store';
}

export const hoursWords = (hours: number | null | undefined): string =>
  hours === null || hours === undefined ? 'hours unknown' : `${Math.round(hours).toLocaleString('en')} h`;

// When it leaves the band, in a few words.
export function leavingWords(life: LampLife | null): string {
  if (!life) return 'Too few readings yet';
  const { leaves_band: leaving } = life;
  if (!leaving) return 'Does not leave the band on its own account';
  if (leaving.from_start) return 'Was below the band when it was first read';
  if (leaving.probability_gone > 0.5) return 'Has left the band';
  const [early, late] = leaving.interval;
  const date = leaving.date ? showDay(leaving.date) : 'more than a century away';
  const interval = `${early ? showDay(early) : 'later'} to ${late ? showDay(late) : 'much later'}`;
  return `${date} (90 %: ${interval})`;
}

export const beyondWords =
  'This date is further off than six times the span of its readings. No curve can be trusted that far: read on.';

const signed = (value: number, digits: number) =>
  Math.abs(value)
    .toFixed(digits)
    .replace(/\.?0+$/, '');

// By measurement against by the calendar, a sentence each.
export function comparisonWords(c: Comparison): string[] {
  const least = c.at_least ? 'at least ' : '';
  const lamps = c.lamps_saved_a_year;
  const money = c.money_saved_a_year;
  const months = `${signed(c.measured_months, 1)} months`;
  return [
    `Replaced when the readings say so, a lamp serves ${least}${months}; the calendar says ${signed(c.every_months, 1)}.`,
    lamps >= 0
      ? `That saves ${least}${signed(lamps, 2)} lamps a year${money !== null ? ` (${signed(money, 2)} in your money)` : ''}.`
      : `That takes ${signed(lamps, 2)} lamps a year more${money !== null ? ` (${signed(money, 2)} in your money)` : ''}: the calendar is too slow for it.`,
    c.days_out_avoided_a_year > 0.5
      ? `By the calendar the animals would be out of their band on ${Math.round(c.days_out_avoided_a_year)} days a year.`
      : 'By the calendar the animals would hardly ever be out of their band.',
  ];
}

export const isUrgent = ({ life }: LampForecast): boolean =>
  life?.leaves_band ? life.leaves_band.from_start || life.leaves_band.probability_gone > 0.5 : false;
