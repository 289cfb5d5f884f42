import { fireEvent, screen, waitFor } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import { App } from '../App';
import { meAs, outOfReach, Refused, stage, stranger } from '../frame/stage';

const screens = { 'GET /api/collection': { cards: [] }, 'GET /api/due': { due: [] } };

function fillIn(fields: Record<string, string>) {
  for (const [label, value] of Object.entries(fields)) {
    fireEvent.change(screen.getByLabelText(new RegExp(`^${label}`)), { target: { value } });
  }
}

describe('signing in', () => {
  it('says that name and password do not go together, and when there were too many tries', async () => {
    let tries = 0;
    window.history.replaceState(null, '', '/today');
    stage(<App />, {
      'GET /api/me': stranger,
      'POST /api/session': () =>
        ++tries === 1
          ? new Refused(403, { title: 'No such login and password', status: 403 })
          : new Refused(429, { title: 'Too many tries; wait 40 s', status: 429 }),
    });
    await screen.findByRole('heading', { name: 'Sign in' });
    fillIn({ 'Login name': 'kim', Password: 'not this one' });
    fireEvent.click(screen.getByRole('button', { name: 'Sign in' }));
    expect((await screen.findByRole('alert')).textContent).toBe('No such login and password.');
    fireEvent.click(screen.getByRole('button', { name: 'Sign in' }));
    await screen.findByText('Too many tries; wait 40 s.');
  });

  it('opens the screens, and signing out closes them', async () => {
    let me = stranger;
    window.history.replaceState(null, '', '/today');
    const { asked } = stage(<App />, {
      ...screens,
      'GET /api/me': () => me,
      'POST /api/session': () => (me = meAs('keeper', { accounts: true })),
      'DELETE /api/session': () => {
        me = stranger;
        return null;
      },
    });
    await screen.findByRole('heading', { name: 'Sign in' });
    fillIn({ 'Login name': ' kim ', Password: 'the right words' });
    fireEvent.click(screen.getByRole('button', { name: 'Sign in' }));
    await screen.findByRole('heading', { name: 'Today' });
    expect(asked.find(({ method }) => method === 'POST')?.body).toEqual({
      login: 'kim',
      password: 'the right words',
    });
    fireEvent.click(screen.getByRole('button', { name: 'Kim' }));
    fireEvent.click(await screen.findByRole('button', { name: 'Sign out' }));
    await screen.findByRole('heading', { name: 'Sign in' });
    expect(asked.find(({ method }) => method === 'DELETE')?.headers.get('x-dapple-csrf')).toBe('word');
  });
});

describe('an invitation', () => {
  it('says to what, and makes the account', async () => {
    window.history.replaceState(null, '', '/invited#secret');
    const { asked } = stage(<App />, {
      ...screens,
      'GET /api/me': stranger,
      'GET /api/invited': { site_name: 'Reed House', role: 'viewer' },
      'POST /api/invited': meAs('viewer', { accounts: true }),
    });
    expect(await screen.findByText('Reed House')).toBeTruthy();
    expect(asked.find(({ address }) => address.startsWith('/api/invited'))?.address).toBe(
      '/api/invited?token=secret',
    );
    fillIn({ 'Your name': 'Vera', 'Login name': 'vera', Password: 'a few words in a row' });
    fireEvent.click(screen.getByRole('button', { name: 'Make the account' }));
    await screen.findByRole('heading', { name: 'Today' });
    expect(asked.find(({ method }) => method === 'POST')?.body).toEqual({
      token: 'secret',
      name: 'Vera',
      login: 'vera',
      password: 'a few words in a row',
    });
    expect(window.location.hash).toBe('');
  });

  it('is accepted by who is signed in without another account', async () => {
    window.history.replaceState(null, '', '/invited#secret');
    const { asked } = stage(<App />, {
      ...screens,
      'GET /api/me': meAs('keeper', { accounts: true }),
      'GET /api/invited': { site_name: 'Old Mill', role: 'keeper' },
      'POST /api/invited': meAs('keeper', { accounts: true }),
    });
    fireEvent.click(await screen.findByRole('button', { name: 'Accept as Kim' }));
    await waitFor(() =>
      expect(asked.find(({ method }) => method === 'POST')?.body).toEqual({ token: 'secret' }),
    );
  });

  it('that no longer serves is said to, without a form', async () => {
    window.history.replaceState(null, '', '/invited#old');
    stage(<App />, {
      'GET /api/me': stranger,
      'GET /api/invited': new Refused(404, { title: 'No such invitation', status: 404 }),
    });
    expect((await screen.findByRole('alert')).textContent).toMatch(/no longer serves/);
    expect(screen.queryByRole('button', { name: 'Make the account' })).toBeNull();
  });
});

describe('the frame', () => {
  it('says when the server is out of reach', async () => {
    window.history.replaceState(null, '', '/today');
    stage(<App />, {
      'GET /api/me': meAs('keeper'),
      'GET /api/collection': outOfReach,
      'GET /api/due': outOfReach,
    });
    expect(await screen.findByText(/cannot be reached just now/)).toBeTruthy();
  });

  it('keeps a chosen unit with the person and on this device', async () => {
    window.history.replaceState(null, '', '/today');
    const me = meAs('keeper');
    const { asked } = stage(<App />, {
      ...screens,
      'GET /api/me': { ...me, person: { ...me.person, settings: { later: 1, temperature: 'f' } } },
      'PUT /api/me/settings': ({ body }: { body: unknown }) => ({
        ...me.person,
        revision: 4,
        settings: body,
      }),
    });
    await screen.findByRole('heading', { name: 'Today' });
    await waitFor(() => expect(localStorage.getItem('dapple-temperature')).toBe('"f"'));
    fireEvent.click(screen.getByRole('button', { name: 'Units and colours' }));
    fireEvent.click(await screen.findByRole('radio', { name: 'inch' }));
    await waitFor(() =>
      expect(asked.find(({ method }) => method === 'PUT')?.body).toEqual({
        later: 1,
        length: 'in',
        temperature: 'f',
        scheme: 'auto',
      }),
    );
    expect(localStorage.getItem('dapple-length')).toBe('"in"');
  });

  it('lets a person of several sites choose one', async () => {
    window.history.replaceState(null, '', '/today');
    const { asked } = stage(<App />, {
      ...screens,
      'GET /api/me': {
        ...meAs('keeper'),
        sites: ['room', 'mill'].map((id) => ({
          site: { ...meAs('keeper').sites[0]?.site, id, name: `The ${id}` },
          role: 'keeper',
        })),
      },
    });
    fireEvent.change(await screen.findByRole('combobox', { name: 'Site' }), { target: { value: 'mill' } });
    await waitFor(() => expect(asked.some(({ address }) => address === '/api/due?site=mill')).toBe(true));
  });
});
