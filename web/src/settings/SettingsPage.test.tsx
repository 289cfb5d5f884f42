import { fireEvent, screen, waitFor } from '@testing-library/react';
import { beforeEach, describe, expect, it } from 'vitest';
import type { ImportPreview } from '../api/schema';
import { aCard } from '../collection/sampleCards';
import { firstOf, kept, meAs, stage } from '../frame/stage';
import SettingsPage from './SettingsPage';

const at = (part: string) => window.history.replaceState(null, '', `/settings#${part}`);
const preview: ImportPreview = {
  would_add: { reading: 24 },
  there: {},
  enclosures: ['north-3'],
  first: '2026-01-03',
  last: '2026-02-20',
  left_out: [],
  faults: [],
  added: null,
};
const table = () => new File(['date,value\n2026-01-03,4\n'], 'winter.csv', { type: 'text/csv' });
const fileFields = () => document.querySelectorAll('input[type=file]');
const fileField = () => firstOf([...fileFields()]);

describe('importing readings', () => {
  beforeEach(() => at('in-and-out'));

  it('first says what would happen, and brings in only on request', async () => {
    const { asked } = stage(<SettingsPage />, {
      'GET /api/me': meAs('manager'),
      'POST /api/import/readings': ({ address }: { address: string }) =>
        address.includes('apply=1') ? { ...preview, added: 24 } : preview,
    });
    await screen.findByRole('heading', { name: 'Bring in readings' });
    fireEvent.change(fileField(), { target: { files: [table()] } });
    await screen.findByText('It would add 24 readings, from 3 Jan 2026 to 20 Feb 2026.');
    expect(asked.filter(({ method }) => method === 'POST').map(({ address }) => address)).toEqual([
      '/api/import/readings?site=room&file=winter.csv',
    ]);
    fireEvent.click(screen.getByRole('button', { name: 'Bring it in' }));
    await screen.findByText('Brought in: 24 things from winter.csv.');
    const sent = asked.filter(({ method }) => method === 'POST').at(-1);
    expect(sent?.headers.get('content-type')).toBe('text/csv');
    expect(sent?.body).toBeInstanceOf(File);
  });

  it('does not offer to bring in what has faults, and says where they are', async () => {
    stage(<SettingsPage />, {
      'GET /api/me': meAs('manager'),
      'POST /api/import/readings': {
        ...preview,
        would_add: {},
        faults: [{ file: 'winter.csv', place: 'line 2', found: 'no enclosure', allowed: 'an enclosure' }],
      },
    });
    await screen.findByRole('heading', { name: 'Bring in readings' });
    fireEvent.change(fileField(), { target: { files: [table()] } });
    expect(await screen.findByText('line 2')).toBeTruthy();
    expect(screen.queryByRole('button', { name: 'Bring it in' })).toBeNull();
  });

  it('is a manager’s business; the export is everybody’s', async () => {
    stage(<SettingsPage />, { 'GET /api/me': meAs('keeper', { accounts: true }) });
    expect((await screen.findByRole('link', { name: 'Export the collection' })).getAttribute('href')).toBe(
      '/api/export?site=room',
    );
    expect(fileFields()).toHaveLength(0);
  });
});

describe('the site', () => {
  beforeEach(() => at('site'));

  it('is changed with all its fields at the revision that was seen', async () => {
    const { asked } = stage(<SettingsPage />, {
      'GET /api/me': meAs('manager'),
      'GET /api/rooms': { things: [], next: '' },
      'PUT /api/sites/room': kept,
    });
    fireEvent.change(await screen.findByLabelText(/^Latitude/), { target: { value: '48.2' } });
    fireEvent.click(screen.getByRole('button', { name: 'Keep the changes' }));
    await screen.findByText('Kept.');
    const write = asked.find(({ method }) => method === 'PUT');
    expect(write?.body).toEqual({ name: 'Reed House', time_zone: 'UTC', lat_deg: 48.2 });
    expect(write?.headers.get('if-match')).toBe('"3"');
  });

  it('is only read by those who do not manage it', async () => {
    stage(<SettingsPage />, {
      'GET /api/me': meAs('viewer', { accounts: true }),
      'GET /api/rooms': { things: [{ kind: 'room', id: 'r', ...kept, name: 'Dry room' }], next: '' },
    });
    await screen.findByText('Dry room');
    expect(screen.queryByRole('button')).toBeNull();
  });
});

describe('people', () => {
  beforeEach(() => at('people'));
  const people = {
    'GET /api/people': {
      things: [
        { kind: 'person', id: 'kim', ...kept, name: 'Kim' },
        { kind: 'person', id: 'vera', ...kept, name: 'Vera' },
      ],
      next: '',
    },
    'GET /api/memberships': {
      things: [
        { kind: 'membership', id: 'm1', ...kept, person: 'kim', role: 'manager' },
        { kind: 'membership', id: 'm2', ...kept, person: 'vera', role: 'viewer' },
      ],
      next: '',
    },
    'GET /api/invitations': { invitations: [] },
  };

  it('get another role, but nobody takes away their own', async () => {
    const { asked } = stage(<SettingsPage />, {
      'GET /api/me': meAs('manager', { accounts: true }),
      ...people,
      'PUT /api/memberships/m2': {},
    });
    fireEvent.change(await screen.findByRole('combobox', { name: 'Role of Vera' }), {
      target: { value: 'keeper' },
    });
    await waitFor(() =>
      expect(asked.find(({ method }) => method === 'PUT')?.body).toEqual({ person: 'vera', role: 'keeper' }),
    );
    expect(screen.queryByRole('combobox', { name: 'Role of Kim' })).toBeNull();
  });

  it('are invited by a link and a code that are shown once, as a picture and not as markup', async () => {
    const code = '<svg xmlns="http://www.w3.org/2000/svg"><script>window.hurt = 1</script></svg>';
    stage(<SettingsPage />, {
      'GET /api/me': meAs('manager', { accounts: true }),
      ...people,
      'POST /api/invitations': {
        token: 't',
        url: 'http://reed.test/invited#t',
        qr_svg: code,
        invitation: {
          id: 'i',
          site: 'room',
          role: 'keeper',
          made_by: 'kim',
          made_at: '2026-03-01T10:00:00.000Z',
          expires: '2026-03-08T10:00:00.000Z',
          used_at: null,
          used_by: null,
          withdrawn_at: null,
        },
      },
    });
    fireEvent.click(await screen.findByRole('button', { name: 'Invite somebody' }));
    fireEvent.click(screen.getByRole('button', { name: 'Make the link' }));
    const picture: HTMLImageElement = await screen.findByRole('img', { name: 'The link as a QR code' });
    expect(decodeURIComponent(picture.src.replace('data:image/svg+xml;utf8,', ''))).toBe(code);
    expect(document.querySelector('script')).toBeNull();
    expect(screen.getByDisplayValue('http://reed.test/invited#t')).toBeTruthy();
  });
});

describe('the trail', () => {
  it('names who did what to what', async () => {
    at('trail');
    stage(<SettingsPage />, {
      'GET /api/me': meAs('manager'),
      'GET /api/collection': { cards: [aCard({ id: 'north-3', name: 'North wall' })] },
      ...Object.fromEntries(
        ['rooms', 'animals', 'lamps', 'meters', 'tasks'].map((kind) => [
          `GET /api/${kind}`,
          { things: [], next: '' },
        ]),
      ),
      'GET /api/trail': {
        changes: [
          {
            seq: 9,
            at: '2026-03-01T09:12:00.000Z',
            by: 'kim',
            kind: 'enclosure',
            id: 'north-3',
            site: 'room',
            revision: 4,
            deed: 'change',
            why: 'fix: raise the ledge',
          },
        ],
      },
    });
    await screen.findByRole('link', { name: 'North wall' });
    expect(screen.getByRole('listitem').textContent).toBe(
      '1 Mar 2026, 09:12Kim changed an enclosure: North wall (fix: raise the ledge)',
    );
  });
});
