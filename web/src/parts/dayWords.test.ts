import { describe, expect, it } from 'vitest';
import { awayFrom, daysBetween, showDay, todayIn, withDaysInWords } from './dayWords';

describe('days', () => {
  it('are written with their month in letters, so that nobody takes the day for the month', () => {
    expect(showDay('2026-03-01')).toBe('1 Mar 2026');
    expect(showDay('2026-03-01T23:59:59.000Z')).toBe('1 Mar 2026');
    expect(showDay('some day')).toBe('some day');
  });

  it('are found in sentences', () => {
    expect(withDaysInWords('It leaves on 2026-03-01 (90 %: 2026-02-01 to 2026-04-01).')).toBe(
      'It leaves on 1 Mar 2026 (90 %: 1 Feb 2026 to 1 Apr 2026).',
    );
  });

  it('are counted across leap days and changes of the clock', () => {
    // 2028 is a leap year (Gregorian calendar); clocks go forward in Europe on 29 March 2026.
    expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2);
    expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2);
  });

  it('are today, ago or ahead', () => {
    expect(awayFrom('2026-03-10', '2026-03-10')).toBe('today');
    expect(awayFrom('2026-03-10', '2026-03-09')).toBe('1 day ago');
    expect(awayFrom('2026-03-10', '2026-03-22')).toBe('in 12 days');
  });

  it('begin at the site, not in Greenwich', () => {
    const now = new Date('2026-03-01T23:30:00Z');
    expect(todayIn('Europe/Vienna', now)).toBe('2026-03-02');
    expect(todayIn('UTC', now)).toBe('2026-03-01');
    expect(todayIn('No/Such_Place', now)).toMatch(/^2026-03-0[12]$/);
  });
});
