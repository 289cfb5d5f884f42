import { describe, expect, it } from 'vitest';
import {
  fromCelsius,
  fromCm,
  showLength,
  showSize,
  showTemperature,
  showTemperatures,
  toCelsius,
  toCm,
} from './units';

describe('lengths', () => {
  it('come back unchanged from inches', () => {
    expect(toCm(fromCm(18.4, 'in'), 'in')).toBeCloseTo(18.4, 12);
    // The international inch is 25.4 mm exactly (NIST SP 811, appendix B.6).
    expect(fromCm(2.54, 'in')).toBeCloseTo(1, 12);
  });

  it('are shown with their unit, inches to a tenth', () => {
    expect(showLength(18, 'cm')).toBe('18 cm');
    expect(showLength(18, 'in')).toBe('7.1 in');
    expect(showSize([120, 60, 60], 'in')).toBe('47.2 × 23.6 × 23.6 in');
  });
});

describe('temperatures', () => {
  it('meet the fixed points of both scales', () => {
    // Ice melts at 0 degC = 32 degF, water boils at 100 degC = 212 degF (NIST SP 811, appendix B.8: t_F = 1.8 t_C + 32).
    expect(fromCelsius(0, 'f')).toBe(32);
    expect(fromCelsius(100, 'f')).toBe(212);
    expect(toCelsius(-40, 'f')).toBeCloseTo(-40, 12);
    expect(toCelsius(fromCelsius(37.5, 'f'), 'f')).toBeCloseTo(37.5, 12);
  });

  it('are shown in whole degrees', () => {
    expect(showTemperature(38, 'c')).toBe('38 °C');
    expect(showTemperature(38, 'f')).toBe('100 °F');
    expect(showTemperatures([24, 28], 'f')).toBe('75–82 °F');
    expect(showTemperatures([24, 24], 'c')).toBe('24 °C');
  });
});
