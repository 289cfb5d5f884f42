// Days (2026-03-01) and moments (2026-03-01T14:30:05.123Z) in words that mean the same day to every reader.
const dayFormat = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  timeZone: 'UTC',
});

export function showDay(day: string): string {
  const date = new Date(`${day.slice(0, 10)}T12:00:00Z`);
  return Number.isNaN(date.getTime()) ? day : dayFormat.format(date);
}

// A sentence of the server's with its days as they are written here.
export const withDaysInWords = (sentence: string): string =>
  sentence.replace(/\b\d{4}-\d{2}-\d{2}\b/g, showDay);

export function showMoment(moment: string, zone?: string): string {
  const date = new Date(moment);
  if (Number.isNaN(date.getTime())) return moment;
  return new Intl.DateTimeFormat('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
    ...(zone !== undefined && zone !== '' ? { timeZone: zone } : {}),
  }).format(date);
}

// Today where the site is; a zone the browser does not know counts as the device's own.
export function todayIn(zone?: string, now = new Date()): string {
  const parts = (timeZone: string | undefined) =>
    new Intl.DateTimeFormat('sv-SE', { dateStyle: 'short', ...(timeZone ? { timeZone } : {}) }).format(now);
  try {
    return parts(zone);
  } catch {
    return parts(undefined);
  }
}

export function daysBetween(from: string, to: string): number {
  const noon = (day: string) => Date.parse(`${day.slice(0, 10)}T12:00:00Z`);
  return Math.round((noon(to) - noon(from)) / 86_400_000);
}

// "today", "3 days ago", "in 12 days".
export function awayFrom(today: string, day: string): string {
  const away = daysBetween(today, day);
  if (away === 0) return 'today';
  const count = Math.abs(away) === 1 ? '1 day' : `${Math.abs(away)} days`;
  return away < 0 ? `${count} ago` : `in ${count}`;
}
