// The screen against a server that answers as `dapple sun --json` does.
import { MantineProvider } from '@mantine/core';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { cleanup, configure, fireEvent, render, screen, waitFor } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Sun } from '../api/schema';
import SunPage from './SunPage';

vi.mock('./PenModel', () => ({ default: () => <div data-testid="model" /> }));

const hour = (i: number) => `2026-06-21T${String(i).padStart(2, '0')}:00:00+02:00`;
const curve = Array.from({ length: 25 }, (_, i) => {
  const elevation_deg = 60 * Math.sin((Math.PI * (i - 6)) / 12);
  return {
    time: i === 24 ? '2026-06-22T00:00:00+02:00' : hour(i),
    elevation_deg,
    azimuth_deg: 15 * i,
    uvi: Math.max(0, 8 * Math.sin((Math.PI * (i - 6)) / 12)),
  };
});
const open: Sun = {
  curve,
  max: { time: hour(12), uvi: 8 },
  windows: [{ from: '2026-06-21T07:24:00+02:00', to: '2026-06-21T10:31:00+02:00' }],
  time_zone: 'Europe/Vienna',
  facing: 'up',
  ozone_du: 331.4,
  cautions: ['Never put an animal in the sun in a closed or glazed box.', 'Trust the meter.'],
};
const forSpecies: Sun = {
  ...open,
  species: 'testudo_hermanni',
  band: [2.9, 7.4],
  dose: { erythemal_j_m2: 1234, d3_j_m2: 2345 },
};
const forPen: Sun = {
  ...forSpecies,
  curve: curve.map((moment) => ({ ...moment, open_uvi: moment.uvi / 2 })),
  shade: {
    enclosure: 'lawn',
    spot: 'sunny',
    spots: [{ id: 'sunny', uvi: curve.map(({ uvi }) => uvi), sun_share: curve.map(() => 1) }],
    animals: [],
  },
  plan: {
    min_cm: [0.1, 0.1, 8],
    max_cm: [199.9, 99.9, 8],
    counts: [2, 2, 1],
    times: [hour(11), hour(12)],
    uvi: [
      [1, 2, 3, 4],
      [5, 6, 7, 8],
    ],
    sun_share: [
      [0, 0, 1, 1],
      [1, 1, 1, 1],
    ],
    share_in_sun: [0.5, 0.96],
    share_in_band: [0.5, 0.31],
  },
};

// Slow machines draw this screen in a second or two.
configure({ asyncUtilTimeout: 15_000 });
vi.setConfig({ testTimeout: 40_000 });

let asked: Record<string, unknown>[] = [];
let refuse = false;

function answer(path: string, body: unknown): unknown {
  if (path === '/api/me') {
    const site = {
      kind: 'site',
      id: 's1',
      name: 'Garden',
      time_zone: 'Europe/Vienna',
      lat_deg: 48.2,
      lon_deg: 16.4,
    };
    return { person: { id: 'p' }, accounts: false, csrf: null, sites: [{ site, role: 'manager' }] };
  }
  if (path === '/api/enclosures') {
    const outdoors = { lat: 46.5, lon: 11.3, bearing_deg: 180 };
    const document = {
      format: 'dapple/enclosure@1',
      id: 'lawn',
      name: 'Lawn',
      size_cm: [200, 100, 60],
      outdoors,
    };
    return { things: [{ document }, { document: { ...document, id: 'indoors', outdoors: undefined } }] };
  }
  if (path === '/api/materials') return { materials: [] };
  if (path.startsWith('/api/species/'))
    return { id: 'testudo_hermanni', common_names: ['Hermann’s tortoise'] };
  if (path.startsWith('/api/species')) return { species: [] };
  const question = body as Record<string, unknown>;
  asked.push(question);
  return question.plan === true
    ? forPen
    : question.species !== undefined
      ? forSpecies
      : { ...open, zones: [] };
}

beforeEach(() => {
  asked = [];
  refuse = false;
  globalThis.ResizeObserver = class {
    observe = () => undefined;
    unobserve = () => undefined;
    disconnect = () => undefined;
  };
  window.matchMedia = (query) =>
    ({
      matches: false,
      media: query,
      addEventListener: () => undefined,
      removeEventListener: () => undefined,
    }) as unknown as MediaQueryList;
  window.history.replaceState(null, '', '/sun');
  vi.stubGlobal('fetch', (path: string, init?: RequestInit) => {
    if (refuse && path === '/api/sun') {
      const details = {
        title: 'Refused',
        problems: [{ file: '', place: '/date', found: '"x"', allowed: 'a date' }],
      };
      return Promise.resolve(
        new Response(JSON.stringify(details), {
          status: 422,
          headers: { 'content-type': 'application/problem+json' },
        }),
      );
    }
    const body: unknown = typeof init?.body === 'string' ? JSON.parse(init.body) : undefined;
    return Promise.resolve(Response.json(answer(path, body)));
  });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

function show(address = '/sun') {
  window.history.replaceState(null, '', address);
  render(
    <MantineProvider>
      <QueryClientProvider client={new QueryClient()}>
        <SunPage />
      </QueryClientProvider>
    </MantineProvider>,
  );
}

describe('the sun screen', () => {
  it('asks for the first site’s day and shows its cautions first', async () => {
    show();
    const cautions = await screen.findByRole('list', { name: 'Cautions' });
    expect(cautions.firstChild?.textContent).toContain('closed or glazed box');
    expect(asked[0]).toMatchObject({ lat_deg: 48.2, lon_deg: 16.4, time_zone: 'Europe/Vienna' });
    expect(screen.getByRole('img', { name: /highest 8\.0 at 12:00/ })).toBeTruthy();
    // In the open the WHO's category stands beside the highest value and beside each hour.
    expect(screen.getAllByText('very high').length).toBeGreaterThan(1);
    expect(screen.getByTestId('reading').textContent).toContain('At 12:00: UVI 8.0');
  });

  it('tells a pen’s windows, dose and shares of floor in words, and draws its model', async () => {
    show('/sun?enclosure=lawn');
    expect((await screen.findByTestId('windows')).textContent).toContain('07:24 to 10:31 (3 h 7 min)');
    expect(asked.at(-1)).toMatchObject({ plan: true, shade: { id: 'lawn' }, time_zone: 'Europe/Vienna' });
    expect(asked.at(-1)).not.toHaveProperty('lat_deg');
    expect(screen.getByText('1,234 J/m²')).toBeTruthy();
    expect(screen.getByTestId('pen-words').textContent).toMatch(
      /shines on 96\s% of the floor.*31\s% lies in/,
    );
    await screen.findByTestId('model');
    expect(screen.getByRole('row', { name: /^12:00/ }).textContent).toContain('96\u00a0%');
    expect(await screen.findByText(/Hermann’s tortoise/)).toBeTruthy();
  });

  it('follows cloud and shade cloth', async () => {
    show();
    await screen.findByTestId('reading');
    fireEvent.keyDown(screen.getByRole('slider', { name: /^Cloud/ }), { key: 'ArrowRight' });
    await waitFor(() => expect(asked.at(-1)).toMatchObject({ cloud: 0.05 }));
  });

  it('sends a forecast file and can put the model back', async () => {
    show();
    await screen.findByTestId('reading');
    const input = document.querySelector('input[type=file]');
    if (!input) throw new Error('there is no place for a file');
    const text = 'time,uvi\n2026-06-21T12:00,3\n';
    // jsdom's files cannot be read.
    const file = Object.assign(new File([text], 'day.csv'), { text: () => Promise.resolve(text) });
    fireEvent.change(input, { target: { files: [file] } });
    await waitFor(() => expect(asked.at(-1)?.forecast).toBe(text));
    fireEvent.click(screen.getByRole('button', { name: 'Back to the model' }));
    expect(screen.queryByText('day.csv')).toBeNull();
  });

  it('says what the server refuses', async () => {
    refuse = true;
    show();
    expect((await screen.findByRole('alert')).textContent).toContain('/date');
  });
});
