import { describe, expect, it } from 'vitest';
import type { ShadowPlan } from '../api/schema';
import { clock, duration, windowsInWords } from './clock';
import { compassWord, towardSun } from './direction';
import { fieldAt, sharesAt } from './plan';
import { categoryOf } from './whoIndex';

describe('times', () => {
  it('are those of the place, whatever the browser’s zone, over a clock change too', () => {
    expect(clock('2026-06-21T13:05:00+02:00')).toBe('13:05');
    expect(duration('2026-03-29T01:30:00+01:00', '2026-03-29T03:15:00+02:00')).toBe('45 min');
    expect(duration('2026-06-21T08:00:00+02:00', '2026-06-21T10:00:00+02:00')).toBe('2 h');
    expect(windowsInWords([])).toBe('at no time');
  });
});

describe('the sun about an enclosure', () => {
  const near = (a: readonly number[], b: readonly number[]) =>
    a.forEach((value, i) => expect(value).toBeCloseTo(b[i] ?? NaN, 12));

  // The same four as in tests/sky/outdoors_test.cpp.
  it('is where the engine has it', () => {
    near(towardSun(0, 0, 0), [0, 1, 0]);
    near(towardSun(90, 0, 0), [1, 0, 0]);
    near(towardSun(180, 0, 180), [0, 1, 0]);
    near(towardSun(90, 0, 180), [-1, 0, 0]);
    expect(towardSun(123, 30, 45)[2]).toBeCloseTo(0.5, 12);
  });

  it('has a point of the compass', () => {
    expect([0, 44, 180, 359, -90].map(compassWord)).toEqual([
      'north',
      'north-east',
      'south',
      'north',
      'west',
    ]);
  });
});

describe('the public’s UV index', () => {
  // WHO 2002, Global Solar UV Index: low to 2, moderate 3-5, high 6-7, very high 8-10, extreme from 11.
  it('has the guide’s categories, of whole numbers', () => {
    expect([0, 2.4, 2.5, 5.4, 6, 7.5, 10.4, 11].map((uvi) => categoryOf(uvi).name)).toEqual([
      'low',
      'low',
      'moderate',
      'moderate',
      'high',
      'very high',
      'very high',
      'extreme',
    ]);
  });
});

describe('the plan of shadows', () => {
  const plan: ShadowPlan = {
    min_cm: [0, 0, 8],
    max_cm: [100, 50, 8],
    counts: [2, 2, 1],
    times: ['a', 'b'],
    uvi: [
      [1, 2, 3, 4],
      [5, 6, 7, 8],
    ],
    sun_share: [
      [0, 0, 1, 1],
      [1, 1, 1, 1],
    ],
    share_in_sun: [0.5, 1],
  };

  it('gives the field of a time, and nothing for a time at night', () => {
    const field = fieldAt(plan, 'b', 'uvi');
    expect(Array.from(field?.values ?? [])).toEqual([5, 6, 7, 8]);
    expect(field?.header).toMatchObject({ least: 5, most: 8, counts: [2, 2, 1] });
    expect(Array.from(fieldAt(plan, 'a', 'sun')?.values ?? [])).toEqual([0, 0, 1, 1]);
    expect(fieldAt(plan, 'c', 'uvi')).toBeUndefined();
  });

  it('says how much of the floor the sun reaches, and of the band only where there is one', () => {
    expect(sharesAt(plan, 'a')).toEqual({ inSun: '50\u00a0%', inBand: null });
    expect(sharesAt({ ...plan, share_in_band: [0.256, 0] }, 'a').inBand).toBe('26\u00a0%');
  });
});
