import { describe, expect, it } from 'vitest';
import type { Reading } from '../api/schema';
import { isOutside, latestAt, medianOf } from './latest';

const reading = (spot: string, taken_at: string, value: number, more: Partial<Reading> = {}): Reading => ({
  kind: 'reading',
  id: `${spot}${taken_at}${value}`,
  site: 'home',
  revision: 1,
  made: { at: taken_at, by: 'keeper' },
  changed: { at: taken_at, by: 'keeper' },
  retired_at: null,
  enclosure: 'box',
  quantity: 'uvi',
  spot,
  value,
  taken_at,
  ...more,
});

describe('the latest readings', () => {
  it('are the median of the last day at each spot', () => {
    const latest = latestAt(
      [
        reading('bask', '2026-03-01T10:00:00Z', 9),
        reading('bask', '2026-04-01T10:00:00Z', 3.1),
        reading('bask', '2026-04-01T10:01:00Z', 3.4),
        reading('bask', '2026-04-01T10:02:00Z', 7.0),
        reading('cool', '2026-03-01T10:00:00Z', 0.2),
        reading('cool', '2026-04-01T10:00:00Z', 5, { retired_at: '2026-04-02T00:00:00Z' }),
        reading('cool', '2026-04-01T10:00:00Z', 31, { quantity: 'temperature' }),
      ],
      'uvi',
    );
    expect(latest.get('bask')).toEqual({ value: 3.4, count: 3, day: '2026-04-01' });
    expect(latest.get('cool')).toEqual({ value: 0.2, count: 1, day: '2026-03-01' });
  });

  it('of an even number lie between the two in the middle', () => {
    expect(medianOf([4, 1, 3, 2])).toBe(2.5);
  });

  it('speak against a prediction only where they are farther off than a meter may be', () => {
    expect(isOutside(0, [0.02, 0.04])).toBe(false);
    expect(isOutside(3.2, [3.4, 4])).toBe(false);
    expect(isOutside(2.5, [3.4, 4])).toBe(true);
    expect(isOutside(5, [3.4, 4])).toBe(true);
  });
});
