import { describe, expect, it } from 'vitest';
import type { Enclosure } from '../api/schema';
import { lampNamed, movedThings, withLampAt } from './document';

const enclosure: Enclosure = {
  format: 'dapple/enclosure@1',
  id: 'box',
  size_cm: [120, 60, 60],
  lamps: [
    { id: 'uv', kind: 'tube', centre_cm: [60, 30, 56] },
    { id: 'heat', kind: 'spot', centre_cm: [30, 30, 58] },
  ],
};

describe('moving a lamp', () => {
  it('changes that lamp in a copy and leaves the document alone', () => {
    const moved = withLampAt(enclosure, 'uv', [50, 30, 56]);
    expect(lampNamed(moved, 'uv')?.centre_cm).toEqual([50, 30, 56]);
    expect(lampNamed(moved, 'heat')).toBe(lampNamed(enclosure, 'heat'));
    expect(lampNamed(enclosure, 'uv')?.centre_cm).toEqual([60, 30, 56]);
  });

  it('keeps it over the floor, and below a closed top', () => {
    expect(lampNamed(withLampAt(enclosure, 'uv', [-9, 90, 80]), 'uv')?.centre_cm).toEqual([1, 59, 80]);
    const closed = { ...enclosure, walls: { top: 'wood' } };
    expect(lampNamed(withLampAt(closed, 'uv', [60, 30, 80]), 'uv')?.centre_cm).toEqual([60, 30, 59]);
  });

  it('leaves a ghost of what moved, and of nothing else', () => {
    const { lamps, furniture } = movedThings(enclosure, withLampAt(enclosure, 'heat', [40, 30, 58]));
    expect(lamps.map(({ id }) => id)).toEqual(['heat']);
    expect(furniture).toEqual([]);
  });
});
