import { describe, expect, it } from 'vitest';
import { axisHigh, axisLow, bandOnAxis, placeOnAxis } from './rangeAxis';

describe('the UVI axis', () => {
  it('puts its ends at 0 and 1 and equal ratios at equal distances', () => {
    expect(placeOnAxis(axisLow)).toBe(0);
    expect(placeOnAxis(axisHigh)).toBe(1);
    expect(placeOnAxis(2) - placeOnAxis(1)).toBeCloseTo(placeOnAxis(8) - placeOnAxis(4), 12);
  });

  it('keeps what lies outside at its ends, also darkness and nonsense', () => {
    expect([0, -1, 0.01, Number.NaN].map(placeOnAxis)).toEqual([0, 0, 0, 0]);
    expect(placeOnAxis(1000)).toBe(1);
  });

  it('ends the middle of a band where the low and the high end begin: at the outer fifths, logarithmically', () => {
    const { whole, middle } = bandOnAxis([2.9, 7.4]);
    expect(middle.from).toBeCloseTo(placeOnAxis(2.9 * (7.4 / 2.9) ** 0.2), 12);
    expect(middle.to).toBeCloseTo(placeOnAxis(2.9 * (7.4 / 2.9) ** 0.8), 12);
    expect(whole.from).toBeLessThan(middle.from);
  });

  it('gives a band that starts in the dark no low end', () => {
    expect(bandOnAxis([0, 0.7]).middle.from).toBe(0);
  });
});
