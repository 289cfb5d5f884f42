import { fireEvent, screen, waitFor } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import type { Due } from '../api/schema';
import { aCard } from '../collection/sampleCards';
import { kept, meAs, stage } from '../frame/stage';
import TodayPage from './TodayPage';

const due = (change: Partial<Due>): Due => ({
  kind: 'task',
  site: 'room',
  thing: 'ledge',
  enclosure: 'north-3',
  title: 'Raise the ledge by 6 cm',
  why: 'Open for 4 days.',
  due: '2026-03-01',
  days_over: 4,
  settling: 'settle_task',
  ...change,
});
const ledge = { kind: 'task', id: 'ledge', ...kept, title: 'Raise the ledge by 6 cm', enclosure: 'north-3' };
const failing = { holds: false, probability: 0.02, why: 'Nowhere bright enough.' };

describe('today', () => {
  it('leads from a survey to its round and from a lamp to the lamp', async () => {
    stage(<TodayPage />, {
      'GET /api/me': meAs('keeper'),
      'GET /api/collection': { cards: [aCard({})] },
      'GET /api/due': {
        due: [
          due({ kind: 'survey', thing: 'north-3', title: 'Survey North wall', settling: 'survey_enclosure' }),
          due({ kind: 'lamp', thing: 'tube 4', title: 'Replace Tube 4', settling: 'replace_lamp' }),
        ],
      },
    });
    const survey = await screen.findByRole('link', { name: 'Survey it: Survey North wall' });
    expect(survey.getAttribute('href')).toBe('/survey/north-3');
    const lamp = screen.getByRole('link', { name: 'Replace it: Replace Tube 4' });
    expect(lamp.getAttribute('href')).toBe('/lamps/tube%204');
  });

  it('settles a task, with its fix, at the revision that was seen, and then shows it no more', async () => {
    let isDone = false;
    const { asked } = stage(<TodayPage />, {
      'GET /api/me': meAs('keeper'),
      'GET /api/collection': { cards: [aCard({})] },
      'GET /api/due': () => ({ due: isDone ? [] : [due({})] }),
      'GET /api/tasks/ledge': { ...ledge, fix: aCard({}).enclosure.document },
      'POST /api/tasks/ledge/settle': () => {
        isDone = true;
        return ledge;
      },
    });
    fireEvent.click(await screen.findByRole('button', { name: /^Settle it/ }));
    fireEvent.click(await screen.findByRole('button', { name: 'Done, change the model' }));
    await screen.findByText('Done: Raise the ledge by 6 cm');
    const write = asked.find(({ method }) => method === 'POST');
    expect(write?.body).toEqual({ apply: true });
    expect(write?.headers.get('if-match')).toBe('"3"');
    expect(write?.headers.get('idempotency-key')).toBeTruthy();
    await waitFor(() => expect(screen.queryByRole('button', { name: /^Settle it/ })).toBeNull());
    expect(screen.getByText('Nothing to do')).toBeTruthy();
  });

  it('keeps a calibration with the meter it is about', async () => {
    const { asked } = stage(<TodayPage />, {
      'GET /api/me': meAs('keeper'),
      'GET /api/collection': { cards: [] },
      'GET /api/due': {
        due: [due({ kind: 'calibration', thing: 'm1', title: 'Calibrate Pen', settling: 'calibrate_meter' })],
      },
      'POST /api/calibrations': {},
    });
    fireEvent.click(await screen.findByRole('button', { name: /^Enter calibration/ }));
    fireEvent.change(screen.getByRole('textbox', { name: /^Factor/ }), { target: { value: '1.04' } });
    fireEvent.change(screen.getByLabelText(/^Day/), { target: { value: '2026-03-02' } });
    fireEvent.click(screen.getByRole('button', { name: 'Keep the calibration' }));
    await waitFor(() => expect(screen.queryByRole('button', { name: 'Keep the calibration' })).toBeNull());
    expect(asked.find(({ method }) => method === 'POST')?.body).toEqual({
      site: 'room',
      meter: 'm1',
      calibrated_on: '2026-03-02',
      factor: 1.04,
    });
  });

  it('shows animals whose verdict fails and where to see what helps', async () => {
    stage(<TodayPage />, {
      'GET /api/me': meAs('keeper'),
      'GET /api/collection': {
        cards: [aCard({ id: 'dark-1', name: 'Dark corner', verdict: { basking: failing, overall: failing } })],
      },
      'GET /api/due': { due: [] },
    });
    expect(await screen.findByText('Basking: Nowhere bright enough.')).toBeTruthy();
    const link = screen.getByRole('link', { name: /^See what helps: .*Dark corner/ });
    expect(link.getAttribute('href')).toBe('/collection/dark-1');
    expect(screen.queryByText('Nothing to do')).toBeNull();
  });

  it('offers a viewer nothing that writes', async () => {
    stage(<TodayPage />, {
      'GET /api/me': meAs('viewer', { accounts: true }),
      'GET /api/collection': { cards: [] },
      'GET /api/due': { due: [due({})] },
    });
    await screen.findByText('Raise the ledge by 6 cm');
    expect(screen.queryByRole('button')).toBeNull();
  });
});
