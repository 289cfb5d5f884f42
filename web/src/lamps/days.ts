// Calendar days as the record writes them (2026-03-01).
const day_ms = 86_400_000;
const at = (day: string) => Date.parse(`${day}T00:00:00Z`);

export const isoDay = (date: Date): string => date.toLocaleDateString('sv'); // of the clock on the wall
export const addDays = (day: string, days: number): string =>
  new Date(at(day) + days * day_ms).toISOString().slice(0, 10);
export const daysBetween = (from: string, to: string): number => Math.round((at(to) - at(from)) / day_ms);

export const showDay = (day: string): string =>
  new Date(at(day)).toLocaleDateString('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    timeZone: 'UTC',
  });
