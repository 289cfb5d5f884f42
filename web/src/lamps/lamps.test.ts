import { describe, expect, it } from 'vitest';
import type { KeptLamp, LampForecast, LampLife } from '../api/schema';
import { addDays, daysBetween } from './days';
import { decayOf, tellingSpot } from './decay';
import { comparisonWords, leavingWords, standingOf } from './lampWords';
import { shoppingList, sortOf } from './shopping';

const signed = { at: '', by: '' };
const lamp = (id: string, more: Partial<KeptLamp> = {}): KeptLamp => ({
  kind: 'lamp',
  id,
  site: 'S1',
  revision: 1,
  made: signed,
  changed: signed,
  retired_at: null,
  name: id,
  lamp_kind: 'fluorescent_tube',
  power_w: 39,
  ...more,
});

const leaving = (early: string | null, date: string | null, late: string | null) => ({
  date,
  interval: [early, late] as const,
  hours: 4000,
  probability_gone: 0.01,
  from_start: false,
});
const life = (more: Partial<LampLife>): LampLife => ({
  lamp: '',
  name: '',
  enclosure: null,
  kind: 'tube',
  readings: 5,
  alpha_per_1000h: 0.2,
  alpha_interval: [0.1, 0.3],
  half_life_h: 3466,
  leaves_band: null,
  beyond_limit: false,
  spots: [],
  calendar: null,
  set_aside: [],
  words: [],
  ...more,
});
const forecast = (id: string, more: Partial<LampForecast> = {}): LampForecast => ({
  lamp: id,
  hours: 100,
  life: null,
  notes: [],
  readings: [],
  ...more,
});

describe('days', () => {
  it('count over months, leap years and the change of the clock', () => {
    expect(addDays('2028-02-28', 2)).toBe('2028-03-01');
    expect(addDays('2026-03-28', 2)).toBe('2026-03-30');
    expect(daysBetween('2026-01-01', '2027-01-01')).toBe(365);
  });
});

describe('the decay curve', () => {
  const rate = { alpha_per_1000h: 0.25, alpha_interval: [0.2, 0.3] as const };
  const exact = [500, 1000, 2500].map((hours) => ({
    taken_at: '',
    spot: 'bask',
    hours,
    value: 6 * Math.exp((-0.25 * hours) / 1000),
  }));

  it('goes through readings that follow the law, and halves after ln 2 over the rate', () => {
    const decay = decayOf(exact, rate);
    expect(decay?.at(0)).toBeCloseTo(6, 10);
    expect(decay?.at((1000 * Math.LN2) / 0.25)).toBeCloseTo(3, 10);
  });

  it('is moved little by one reading with a thumb in the way', () => {
    const spoiled = [...exact, { taken_at: '', spot: 'bask', hours: 2000, value: 0.4 }, ...exact];
    expect(decayOf(spoiled, rate)?.at(0)).toBeCloseTo(6, 1);
  });

  it('has an interval that opens to both sides of the readings’ middle', () => {
    const decay = decayOf(exact, rate);
    const width = (hours: number) => {
      const [low, high] = decay?.between(hours) ?? [0, 0];
      return high / low;
    };
    const middle = 4000 / 3;
    expect(width(middle)).toBeCloseTo(1, 10);
    expect(width(middle + 1000)).toBeCloseTo(Math.exp(0.1), 10);
    expect(width(middle - 1000)).toBeCloseTo(Math.exp(0.1), 10);
  });

  it('is none without light', () => {
    expect(decayOf([], rate)).toBeNull();
  });

  it('is told by the spot that leaves first, else by the most read one', () => {
    const readings = ['a', 'b', 'b'].map((spot) => ({ taken_at: '', hours: 1, value: 1, spot }));
    expect(tellingSpot(forecast('L', { readings }))?.id).toBe('b');
    const leaves_band = leaving('2026-05-01', '2026-06-01', null);
    const spots = [{ id: 'a', name: 'A', read: true, low: 3, leaves_band, beyond_limit: false }];
    expect(tellingSpot(forecast('L', { readings, life: life({ leaves_band, spots }) }))?.id).toBe('a');
  });
});

describe('the shopping list', () => {
  const planning = { today: '2026-03-01', delivery_days: 14, ahead_days: 365 };
  const out = (id: string, early: string) =>
    forecast(id, { life: life({ leaves_band: leaving(early, addDays(early, 60), null) }) });

  it('asks for each lamp a delivery before the early end of its interval, soonest first', () => {
    const lamps = [lamp('A', { enclosure: 'e1', price: 40 }), lamp('B', { enclosure: 'e2' })];
    const list = shoppingList(lamps, [out('A', '2026-09-15'), out('B', '2026-06-15')], planning);
    expect(list.map((order) => [order.lamp.id, order.order_by, order.price])).toEqual([
      ['B', '2026-06-01', null],
      ['A', '2026-09-01', 40],
    ]);
  });

  it('lets what is in store serve first, of the same sort only, each once', () => {
    const lamps = [
      lamp('A', { enclosure: 'e1' }),
      lamp('B', { enclosure: 'e2' }),
      lamp('spare'),
      lamp('other', { power_w: 54 }),
      lamp('gone', { retired_on: '2026-01-01' }),
    ];
    const list = shoppingList(lamps, [out('A', '2026-05-01'), out('B', '2026-06-01')], planning);
    expect(list.map((order) => order.fromStore?.id ?? null)).toEqual(['spare', null]);
  });

  it('says today for what is overdue and leaves out what lasts the year, or cannot be told', () => {
    const lamps = ['A', 'B', 'C'].map((id) => lamp(id, { enclosure: 'e' }));
    const list = shoppingList(
      lamps,
      [out('A', '2026-01-10'), out('B', '2028-01-01'), forecast('C')],
      planning,
    );
    expect(list.map((order) => [order.lamp.id, order.needed_by, order.order_by])).toEqual([
      ['A', '2026-03-01', '2026-03-01'],
    ]);
  });

  it('tells sorts apart by the maker’s words, else by kind and power', () => {
    expect(sortOf(lamp('A'))).toBe('Fluorescent tube, 39 W');
    expect(sortOf(lamp('A', { model: '85 cm' }))).toBe('Fluorescent tube, 85 cm');
  });
});

describe('lamps in words', () => {
  it('stand, lie in store or are retired', () => {
    expect(
      [lamp('A', { enclosure: 'e' }), lamp('B'), lamp('C', { retired_on: '2026-01-01' })].map(standingOf),
    ).toEqual(['standing', 'in store', 'retired']);
  });

  it('leave the band on a date with its interval', () => {
    expect(leavingWords(null)).toBe('Too few readings yet');
    expect(leavingWords(life({ leaves_band: leaving('2026-05-01', '2026-06-01', null) }))).toBe(
      '1 Jun 2026 (90 %: 1 May 2026 to much later)',
    );
  });

  it('compare with the calendar either way', () => {
    const comparison = {
      every_months: 6,
      measured_months: 11.5,
      at_least: true,
      lamps_saved_a_year: 0.96,
      money_saved_a_year: 48,
      days_out_avoided_a_year: 0,
    };
    expect(comparisonWords(comparison)[1]).toBe('That saves at least 0.96 lamps a year (48 in your money).');
    expect(comparisonWords({ ...comparison, lamps_saved_a_year: -0.5, at_least: false })[1]).toContain(
      'too slow',
    );
  });
});
