import { describe, expect, it } from 'vitest';
import { fromCm, showLength, showSize, toCm } from './units';

describe('lengths', () => {
  it('come back unchanged from inches', () => {
    expect(toCm(fromCm(18.4, 'in'), 'in')).toBeCloseTo(18.4, 12);
    expect(fromCm(2.54, 'in')).toBeCloseTo(1, 12);
  });

  it('are shown with their unit, inches to a tenth', () => {
    expect(showLength(18, 'cm')).toBe('18 cm');
    expect(showLength(18, 'in')).toBe('7.1 in');
    expect(showSize([120, 60, 60], 'in')).toBe('47.2 × 23.6 × 23.6 in');
  });
});
