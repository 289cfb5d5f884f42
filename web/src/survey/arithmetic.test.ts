import { describe, expect, it } from 'vitest';
import type { Spot } from '../api/schema';
import { draftOf, keyOf, press, valueOf, type Key } from './digits';
import { repeatsOf } from './repeats';
import { walkingOrder } from './walking';

const type = (...keys: Key[]) => keys.reduce(press, '');

describe('digits', () => {
  it('become the number a meter shows', () => {
    expect(type('4', '.', '2')).toBe('4.2');
    expect(type('.', '5')).toBe('0.5');
    expect(type('0', '7')).toBe('7');
    expect(type('0', '.', '0', '5')).toBe('0.05');
    expect(type('1', '.', '.', '2')).toBe('1.2');
    expect(type('1', '2', 'erase', 'erase', 'erase')).toBe('');
  });

  it('never run on without end', () => {
    expect(Array.from({ length: 20 }, () => '1' as Key).reduce(press, '')).toHaveLength(8);
  });

  it('are a value once there is a digit', () => {
    expect(['', '.', '4.', '0.05'].map(valueOf)).toEqual([null, null, 4, 0.05]);
  });

  it('are read from any keyboard and from what is pasted', () => {
    expect([',', 'Decimal', 'Backspace', '5', 'x', 'Enter'].map(keyOf)).toEqual([
      '.',
      '.',
      'erase',
      '5',
      null,
      null,
    ]);
    expect([' 3,4 ', '12', 'four', '1.2.3'].map(draftOf)).toEqual(['3.4', '12', null, null]);
  });
});

describe('repeats', () => {
  it('have the median of an odd and of an even number of values', () => {
    expect(repeatsOf([])).toBeNull();
    expect(repeatsOf([4.2])).toEqual({ count: 1, median: 4.2, least: 4.2, most: 4.2, scatter: null });
    expect(repeatsOf([4.5, 4.1, 9])?.median).toBe(4.5);
    expect(repeatsOf([4, 1, 2, 3])?.median).toBe(2.5);
  });

  it('have the scatter of a worked example', () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.6, definition of the standard deviation; 2, 4, 4, 4, 5,
    // 5, 7, 9: sum of squares 32, n - 1 = 7, mean 5.
    expect(repeatsOf([2, 4, 4, 4, 5, 5, 7, 9])?.scatter).toBeCloseTo(Math.sqrt(32 / 7) / 5, 12);
  });

  it('of darkness have no scatter to speak of', () => {
    expect(repeatsOf([0, 0])?.scatter).toBeNull();
  });
});

describe('the walk', () => {
  const spot = (id: string, ...position_cm: [number, number, number]): Spot => ({ id, position_cm });

  it('starts at the left and goes on to the nearest, missing nobody', () => {
    const spots = [
      spot('right', 110, 20, 0),
      spot('left', 5, 5, 0),
      spot('high', 60, 30, 40),
      spot('low', 55, 30, 18),
    ];
    expect(walkingOrder(spots).map(({ id }) => id)).toEqual(['left', 'low', 'high', 'right']);
  });

  it('through no spots or one is easy', () => {
    expect(walkingOrder([])).toEqual([]);
    expect(walkingOrder([spot('only', 1, 1, 1)])).toHaveLength(1);
  });
});
