import type { DuePlace } from './useKept';

const days = (n: number) => (n === 1 ? '1 day' : `${n} days`);

export function dueWords({ due, card }: DuePlace): string {
  if (due && due.days_over > 0) return `${days(due.days_over)} overdue`;
  if (due?.days_over === 0) return 'Due today';
  if (due) return `Due in ${days(-due.days_over)}`;
  if (card.last_survey === null) return 'Never surveyed';
  return card.next_survey !== null ? `Next ${card.next_survey}` : `Last ${card.last_survey}`;
}

export const keptWords = (moment: string): string =>
  new Date(moment).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

// At most three figures: no meter shows more that mean anything.
export const figures = (value: number): string =>
  value >= 1000 ? Math.round(value).toLocaleString('en') : String(Number(value.toPrecision(3)));
