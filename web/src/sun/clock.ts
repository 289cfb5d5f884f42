// Times of an answer: ISO 8601 with the place's own offset, so the clock time stands in the text itself and no time zone of
// the browser gets in between.
import type { Sun } from '../api/schema';

export type Moment = Sun['curve'][number];

export const clock = (time: string): string => time.slice(11, 16);
export const minutesFrom = (start: string, time: string): number =>
  (Date.parse(time) - Date.parse(start)) / 60_000;

export function duration(from: string, to: string): string {
  const minutes = Math.round(minutesFrom(from, to));
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return [hours > 0 ? `${hours} h` : '', rest > 0 || hours === 0 ? `${rest} min` : '']
    .filter(Boolean)
    .join(' ');
}

export function windowsInWords(windows: Sun['windows']): string {
  if (windows.length === 0) return 'at no time';
  return windows.map(({ from, to }) => `${clock(from)} to ${clock(to)}`).join(' and ');
}

// The moment nearest to a time.
export function nearest(curve: readonly Moment[], time: string): Moment | undefined {
  const at = Date.parse(time);
  return curve.reduce<Moment | undefined>((best, one) => {
    const isCloser =
      best === undefined || Math.abs(Date.parse(one.time) - at) < Math.abs(Date.parse(best.time) - at);
    return isCloser ? one : best;
  }, undefined);
}

// Why there is no window: the day stays below the band, or jumps over it.
export function whyNever(sun: Sun): string {
  const { band } = sun;
  if (!band) return 'Nobody knows this animal’s UV band.';
  return sun.max.uvi < band[0]
    ? 'The sun stays below its band all day.'
    : 'The sun passes its band too quickly to be seen at these steps.';
}
