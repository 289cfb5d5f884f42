import { describe, expect, it } from 'vitest';
import { durationWords, facePlaces, permitted_s } from './exposure';

describe('the permitted exposure', () => {
  // IEC 62471:2006, 4.3.1: t = 30 / E_s; 30 J/m2 over 8 h is 1.04 mW/m2, below which there is no limit.
  it('is 30 J/m2 over the actinic irradiance, and no limit below 1 mW/m2', () => {
    expect(permitted_s(0.01)).toBeCloseTo(3000, 9);
    expect(permitted_s(0.001)).toBeNull();
    expect(permitted_s(0.0011)).not.toBeNull();
  });

  it('is said in the unit people plan with', () => {
    expect([45, 600, 9000].map(durationWords)).toEqual(['45 s', '10 min', '2.5 h']);
  });

  it('is looked for inside the box, along its front', () => {
    for (const [x, y, z] of facePlaces([120, 60, 50])) {
      expect(x > 0 && x < 120 && y > 0 && y < 1 && z > 0 && z < 50).toBe(true);
    }
  });
});
