import { describe, expect, it } from 'vitest';
import type { Enclosure, Site } from '../api/schema';
import { outdoorsOf, questionOf, underCloth, type Form } from './question';

const pen: Enclosure = {
  format: 'dapple/enclosure@1',
  id: 'lawn',
  size_cm: [200, 100, 60],
  outdoors: { lat: 48.2, lon: 16.4, bearing: 180 },
};
const signed = { at: '2026-01-01T00:00:00Z', by: null } as unknown as Site['made'];
const site: Site = {
  kind: 'site',
  id: 's1',
  site: null,
  revision: 1,
  made: signed,
  changed: signed,
  retired_at: null,
  name: 'Garden',
  time_zone: 'Europe/Vienna',
  lat_deg: 48.2,
  lon_deg: 16.4,
  elevation_m: 170,
};
const form: Form = {
  whom: { kind: 'species', species: 'testudo_hermanni' },
  site: 's1',
  place: { lat: '', lon: '', timeZone: '' },
  date: '2026-06-21',
  cloud: 0,
  ozone: '',
  ground: '',
  cloth: 0,
  forecast: null,
};

describe('the question to the sun', () => {
  it('takes a site’s place and leaves out what nobody changed', () => {
    expect(questionOf(form, [site], []).question).toEqual({
      lat_deg: 48.2,
      lon_deg: 16.4,
      elevation_m: 170,
      time_zone: 'Europe/Vienna',
      date: '2026-06-21',
      species: 'testudo_hermanni',
    });
  });

  it('reads a typed place, a decimal comma too, and names every field it cannot use', () => {
    const typed = { ...form, site: null, place: { lat: '-33,9', lon: '18.4', timeZone: ' ' } };
    expect(questionOf(typed, [site], []).question).toMatchObject({ lat_deg: -33.9, lon_deg: 18.4 });
    const wrong = { ...typed, place: { lat: '95', lon: '', timeZone: '' }, ozone: '5', date: '' };
    expect(questionOf(wrong, [site], []).faults?.map(({ field }) => field)).toEqual([
      'lat',
      'lon',
      'date',
      'ozone',
    ]);
  });

  it('sends cloud and ground as shares, and a forecast as it was written', () => {
    const { question } = questionOf(
      { ...form, cloud: 40, ground: '0.8', ozone: '310', forecast: { name: 'f.csv', text: 'time,uvi\n' } },
      [site],
      [],
    );
    expect(question).toMatchObject({ cloud: 0.4, albedo: 0.8, ozone_du: 310, forecast: 'time,uvi\n' });
  });

  it('asks for a pen where it stands, with the plan of its shadows, by the site’s clock', () => {
    const { question } = questionOf({ ...form, whom: { kind: 'enclosure', id: 'lawn' } }, [site], [pen]);
    expect(question).toEqual({ date: '2026-06-21', shade: pen, plan: true, time_zone: 'Europe/Vienna' });
    const missing = questionOf({ ...form, whom: { kind: 'enclosure', id: 'gone' } }, [site], [pen]);
    expect(missing.faults?.[0]?.field).toBe('whom');
  });

  it('spreads shade cloth over the top of a pen, or over posts where there is none', () => {
    expect(underCloth(pen, 0)).toBe(pen);
    expect(underCloth(pen, 70).screens).toEqual([
      {
        id: 'shade-cloth-over-the-top',
        name: 'Shade cloth',
        min_cm: [0, 0, 60],
        max_cm: [200, 100, 60],
        transmittance: expect.closeTo(0.3, 9) as number,
      },
    ]);
    const { question } = questionOf({ ...form, cloth: 50 }, [site], []);
    expect(question?.shade?.screens).toHaveLength(1);
    expect(question?.lat_deg).toBe(48.2);
    expect(question?.plan).toBeUndefined();
  });
});

describe('where an enclosure stands', () => {
  it('is read from its document, also as older ones write it', () => {
    expect(outdoorsOf(pen)).toEqual({ lat: 48.2, lon: 16.4, bearing_deg: 180 });
    expect(outdoorsOf({ ...pen, outdoors: { lat: 1, lon: 2 } })?.bearing_deg).toBe(0);
    expect(outdoorsOf({ ...pen, outdoors: undefined })).toBeNull();
    expect(outdoorsOf({ ...pen, outdoors: { lat: 'north' } })).toBeNull();
  });
});
