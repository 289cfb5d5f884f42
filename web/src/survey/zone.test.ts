// @vitest-environment node
// The cases of tests/husbandry/test_zone.cpp, one by one, against the same table of zones.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bandBetween, bandOf, stateOf, warmthStateOf, type Band } from './zone';

const table = readFileSync(new URL('../../../reference/checks/uv_zones.csv', import.meta.url), 'utf8')
  .split(/\r?\n/)
  .filter((line) => line !== '' && !line.startsWith('#'))
  .map((line) => line.match(/"[^"]*"|[^,]+/g) ?? []);
const [head = [], ...rows] = table as string[][];
const cell = (row: readonly string[], name: string) => Number(row[head.indexOf(name)]);

const bandOfZones = (...zones: number[]): Band => {
  const band = bandOf(zones);
  if (!band) throw new Error(`no band of ${zones.join()}`);
  return band;
};

describe('the band of a zone', () => {
  it('is the table of the highest UVI sought, and common practice for zone 1', () => {
    expect(rows.length).toBe(4);
    for (const row of rows) {
      const zone = cell(row, 'zone');
      const band = bandOfZones(zone);
      expect(band.low).toBe(cell(row, zone === 1 ? 'practice_low' : 'highest_low'));
      expect(band.high).toBe(cell(row, zone === 1 ? 'practice_high' : 'highest_high'));
      expect(band.ceiling).toBe(band.high);
    }
  });

  it('between two zones is that of the lower with the ceiling of the higher', () => {
    for (const a of [1, 2, 3]) {
      const { low, high } = bandOfZones(a);
      expect(bandOfZones(a, a + 1)).toEqual({ low, high, ceiling: bandOfZones(a + 1).high });
    }
  });

  it('is none where no zone is named or it does not exist', () => {
    expect([[], [0], [4, 5]].map(bandOf)).toEqual([null, null, null]);
  });
});

describe('the state of a value', () => {
  it('is low and high in the outer fifths on a logarithmic axis', () => {
    const band = bandOfZones(3);
    const fifth = Math.log(7.4 / 2.9) / 5;
    const lowEnds = 2.9 * Math.exp(fifth);
    const highBegins = 7.4 * Math.exp(-fifth);
    // A part in a million to either side: far more than rounding, far less than a meter shows.
    const less = 1 - 1e-6;
    const more = 1 + 1e-6;
    expect(stateOf(2.9 * less, band)).toBe('below');
    expect(stateOf(2.9, band)).toBe('low');
    expect(stateOf(lowEnds * less, band)).toBe('low');
    expect(stateOf(lowEnds * more, band)).toBe('in');
    expect(stateOf(highBegins * less, band)).toBe('in');
    expect(stateOf(highBegins * more, band)).toBe('high');
    expect(stateOf(7.4, band)).toBe('high');
    expect(stateOf(7.4 * more, band)).toBe('above');
  });

  it('has no low end where the band starts in the dark, and its high end is measured from the meter’s floor', () => {
    const band = bandOfZones(1);
    const highBegins = 0.7 * (0.05 / 0.7) ** 0.2;
    expect([0, 0.06, highBegins * (1 - 1e-6)].map((uvi) => stateOf(uvi, band))).toEqual(['in', 'in', 'in']);
    expect(stateOf(highBegins * (1 + 1e-6), band)).toBe('high');
    expect(stateOf(0.71, band)).toBe('above');
  });

  it('between two zones is above the band even under the ceiling', () => {
    expect(stateOf(8, bandOfZones(3, 4))).toBe('above');
  });

  it('in a band somebody set has that band’s ceiling', () => {
    const band = bandBetween([1, 2]);
    expect(band.ceiling).toBe(2);
    expect(stateOf(Math.SQRT2, band)).toBe('in');
  });

  it('of a temperature is in the range, its ends included, or out of it', () => {
    expect([34.9, 35, 40, 40.1].map((degC) => warmthStateOf(degC, [35, 40]))).toEqual([
      'below',
      'in',
      'in',
      'above',
    ]);
  });
});
