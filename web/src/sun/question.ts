// What a person asks of the sun, as it stands in the form, and the question that makes of it.
import type { Enclosure, Site, paths } from '../api/schema';

export type Asked = paths['/api/sun']['post']['requestBody']['content']['application/json'];

// Whose day it is: everybody's zones, one species in the open, or an enclosure that stands outdoors.
export type Whom =
  { kind: 'anybody' } | { kind: 'species'; species: string } | { kind: 'enclosure'; id: string };

export type Place = { lat: string; lon: string; timeZone: string };

export type Form = {
  whom: Whom;
  site: string | null; // its id; null: the place typed
  place: Place;
  date: string; // YYYY-MM-DD
  cloud: number; // per cent of the sky
  ozone: string; // DU, empty: as usual in the season
  ground: string; // a value of `grounds`
  cloth: number; // per cent of shade, 0: none
  forecast: { name: string; text: string } | null;
};

// What the ground reflects of the ultraviolet, as `dapple sun --help` gives it. Without one: the enclosure's, else 5 %.
export const grounds = [
  { value: '', label: 'As usual: grass, soil (5 %)' },
  { value: '0.15', label: 'Pale sand (15 %)' },
  { value: '0.8', label: 'Fresh snow (80 %)' },
] as const;

export const cloths = [0, 30, 50, 70, 80] as const;

export function today(timeZone?: string): string {
  try {
    return new Intl.DateTimeFormat('en-CA', timeZone ? { timeZone } : {}).format(new Date());
  } catch {
    return new Intl.DateTimeFormat('en-CA').format(new Date());
  }
}

export const ownTimeZone = () => Intl.DateTimeFormat().resolvedOptions().timeZone;

export type Outdoors = {
  lat: number;
  lon: number;
  bearing_deg: number;
  elevation_m?: number;
  time_zone?: string;
};

// Where an enclosure stands under the sky, if its document says so; older ones write `bearing`.
export function outdoorsOf(enclosure: Enclosure): Outdoors | null {
  const given = (enclosure as { outdoors?: unknown }).outdoors;
  if (typeof given !== 'object' || given === null) return null;
  const { lat, lon, bearing_deg, bearing, elevation_m, time_zone } = given as Record<string, unknown>;
  if (typeof lat !== 'number' || typeof lon !== 'number') return null;
  return {
    lat,
    lon,
    bearing_deg: typeof bearing_deg === 'number' ? bearing_deg : typeof bearing === 'number' ? bearing : 0,
    ...(typeof elevation_m === 'number' ? { elevation_m } : {}),
    ...(typeof time_zone === 'string' ? { time_zone } : {}),
  };
}

// Shade cloth over the whole of an open top. Cloth sold as "50 %" keeps half of the light off.
export function underCloth(enclosure: Enclosure, shadePercent: number): Enclosure {
  if (shadePercent === 0) return enclosure;
  const [width, depth, height] = enclosure.size_cm;
  const cloth = {
    id: 'shade-cloth-over-the-top',
    name: 'Shade cloth',
    min_cm: [0, 0, height] as const,
    max_cm: [width, depth, height] as const,
    transmittance: 1 - shadePercent / 100,
  };
  return { ...enclosure, screens: [...(enclosure.screens ?? []), cloth] };
}

// A run of cloth on posts, open all round: what "under shade cloth" means where no enclosure is chosen.
const clothOnPosts: Enclosure = {
  format: 'dapple/enclosure@1',
  id: 'under-shade-cloth',
  name: 'Shade cloth on posts, 3 × 3 m, 1 m high',
  size_cm: [300, 300, 100],
  walls: { floor: 'grass', left: 'open', right: 'open', front: 'open', back: 'open', top: 'open' },
  spots: [
    { id: 'under-cloth', name: 'Under the middle of the cloth', position_cm: [150, 150, 0], role: 'bask' },
  ],
};

const inRange = (text: string, low: number, high: number) => {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && value >= low && value <= high ? value : null;
};

export type Fault = { field: 'lat' | 'lon' | 'date' | 'ozone' | 'whom'; words: string };

type Ready = { question: Asked; faults?: undefined } | { question?: undefined; faults: readonly Fault[] };

function placeOf(form: Form, site: Site | undefined, faults: Fault[]): Partial<Asked> {
  if (site?.lat_deg !== undefined && site.lon_deg !== undefined) {
    return {
      lat_deg: site.lat_deg,
      lon_deg: site.lon_deg,
      ...(site.time_zone ? { time_zone: site.time_zone } : {}),
      ...(site.elevation_m !== undefined ? { elevation_m: Math.min(6000, site.elevation_m) } : {}),
    };
  }
  const lat = inRange(form.place.lat, -90, 90);
  const lon = inRange(form.place.lon, -180, 180);
  if (lat === null) faults.push({ field: 'lat', words: 'degrees north, -90 to 90' });
  if (lon === null) faults.push({ field: 'lon', words: 'degrees east, -180 to 180' });
  const zone = form.place.timeZone.trim();
  return lat === null || lon === null
    ? {}
    : { lat_deg: lat, lon_deg: lon, ...(zone === '' ? {} : { time_zone: zone }) };
}

// A document may leave its clock to the site.
function clockOf(pen: Enclosure, site: Site | undefined): Partial<Asked> {
  return outdoorsOf(pen)?.time_zone === undefined && site?.time_zone ? { time_zone: site.time_zone } : {};
}

export function questionOf(form: Form, sites: readonly Site[], enclosures: readonly Enclosure[]): Ready {
  const faults: Fault[] = [];
  const { whom } = form;
  const pen = whom.kind === 'enclosure' ? enclosures.find(({ id }) => id === whom.id) : undefined;
  if (whom.kind === 'enclosure' && !pen) faults.push({ field: 'whom', words: 'an enclosure from the list' });
  if (whom.kind === 'species' && whom.species === '') faults.push({ field: 'whom', words: 'a species' });
  const site = sites.find(({ id }) => id === form.site);
  const where = pen
    ? clockOf(pen, site) // its document says where it stands
    : placeOf(
        form,
        sites.find(({ id }) => id === form.site),
        faults,
      );
  if (!/^\d{4}-\d{2}-\d{2}$/.test(form.date)) faults.push({ field: 'date', words: 'a day' });
  const ozone = form.ozone.trim() === '' ? undefined : inRange(form.ozone, 50, 700);
  if (ozone === null) faults.push({ field: 'ozone', words: '50 to 700 Dobson units' });
  const shade = pen
    ? underCloth(pen, form.cloth)
    : form.cloth > 0
      ? underCloth(clothOnPosts, form.cloth)
      : null;
  if (faults.length > 0) return { faults };
  return {
    question: {
      ...where,
      date: form.date,
      ...(form.cloud > 0 ? { cloud: form.cloud / 100 } : {}),
      ...(typeof ozone === 'number' ? { ozone_du: ozone } : {}),
      ...(form.ground !== '' ? { albedo: Number(form.ground) } : {}),
      ...(whom.kind === 'species' ? { species: whom.species } : {}),
      ...(shade ? { shade } : {}),
      ...(pen ? { plan: true } : {}),
      ...(form.forecast ? { forecast: form.forecast.text } : {}),
    },
  };
}
