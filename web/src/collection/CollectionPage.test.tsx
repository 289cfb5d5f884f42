import { fireEvent, screen, waitFor } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import { firstOf, kept, meAs, Refused, stage } from '../frame/stage';
import CollectionPage from './CollectionPage';
import { aCard } from './sampleCards';

const sheet = { id: 'x', common_names: ['Collared lizard'], scientific_name: 'Crotaphytus collaris' };
const north = aCard({ id: 'north-3', name: 'North wall', room: 'Dry room' });
const bog = aCard({
  id: 'bog',
  name: 'Bog',
  room: 'Wet room',
  species: ['emys_orbicularis'],
  change: { open_tasks: 2, next_survey: null },
});
const answers = {
  'GET /api/me': meAs('keeper'),
  'GET /api/collection': { cards: [north, bog] },
  'GET /api/species/crotaphytus_collaris': sheet,
  'GET /api/species/emys_orbicularis': sheet,
};

describe('the collection', () => {
  it('is shown by room, and filtered by words and by need', async () => {
    stage(<CollectionPage />, answers);
    expect(await screen.findByRole('region', { name: 'Dry room' })).toBeTruthy();
    fireEvent.change(screen.getByRole('searchbox'), { target: { value: 'emys' } });
    expect(screen.queryByRole('region', { name: 'Dry room' })).toBeNull();
    expect(screen.getByText('1 of 2')).toBeTruthy();
    fireEvent.change(screen.getByRole('searchbox'), { target: { value: '' } });
    fireEvent.click(screen.getByRole('switch'));
    // North wall's survey date lies in the past of any day this test runs on.
    expect(screen.getByRole('link', { name: 'North wall' })).toBeTruthy();
    fireEvent.change(screen.getByRole('searchbox'), { target: { value: 'no such place' } });
    expect(screen.getByText(/No enclosure fits/)).toBeTruthy();
  });

  it('moves an animal only where somebody said to', async () => {
    const { asked } = stage(<CollectionPage />, {
      ...answers,
      'POST /api/animals/north-3-ruby/move': { thing: {}, event: {} },
    });
    await screen.findByRole('region', { name: 'Dry room' });
    fireEvent.click(firstOf(screen.getAllByRole('button', { name: 'Move Ruby' })));
    const to: HTMLSelectElement = screen.getByRole('combobox', { name: /^To/ });
    expect(to.checkValidity(), 'no place is chosen beforehand').toBe(false);
    fireEvent.change(to, { target: { value: 'bog' } });
    fireEvent.change(screen.getByLabelText(/^Day/), { target: { value: '2026-03-05' } });
    fireEvent.click(screen.getByRole('button', { name: 'Move' }));
    await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
    const write = asked.find(({ method }) => method === 'POST');
    expect(write?.body).toEqual({ to: 'bog', day: '2026-03-05' });
    expect(write?.headers.get('if-match')).toBe('"1"');
  });

  it('says so when somebody else changed the animal meanwhile, and keeps what was typed', async () => {
    stage(<CollectionPage />, {
      ...answers,
      'POST /api/animals/north-3-ruby/move': new Refused(412, { title: 'Changed meanwhile', status: 412 }),
    });
    await screen.findByRole('region', { name: 'Dry room' });
    fireEvent.click(firstOf(screen.getAllByRole('button', { name: 'Move Ruby' })));
    fireEvent.change(screen.getByRole('combobox', { name: /^To/ }), { target: { value: '/out' } });
    fireEvent.change(screen.getByLabelText('Note'), { target: { value: 'To the clinic' } });
    fireEvent.click(screen.getByRole('button', { name: 'Move' }));
    expect((await screen.findByRole('alert')).textContent).toContain('Somebody changed this meanwhile');
    expect(screen.getByDisplayValue('To the clinic')).toBeTruthy();
  });

  it('keeps the place of a verdict that is on its way, and says why there is none', async () => {
    stage(<CollectionPage />, {
      ...answers,
      'GET /api/collection': {
        cards: [
          aCard({ id: 'a', name: 'A', change: { judgement: null, judging: true } }),
          aCard({ id: 'b', name: 'B', change: { judgement: null, problems: ['The lamp stands outside.'] } }),
        ],
      },
    });
    expect(await screen.findByRole('status', { name: 'Being judged' })).toBeTruthy();
    expect(screen.getByText('The lamp stands outside.')).toBeTruthy();
  });

  it('adds an animal by the sheet that was chosen', async () => {
    const { asked } = stage(<CollectionPage />, {
      ...answers,
      'GET /api/species': { species: [{ ...sheet, id: 'crotaphytus_collaris' }] },
      'POST /api/animals': { kind: 'animal', id: 'new', ...kept },
    });
    await screen.findByRole('region', { name: 'Dry room' });
    fireEvent.click(screen.getByRole('button', { name: 'Add an animal' }));
    fireEvent.change(screen.getByRole('textbox', { name: /^Species/ }), { target: { value: 'coll' } });
    fireEvent.click(await screen.findByRole('option', { name: /Collared lizard/ }));
    fireEvent.change(screen.getByRole('textbox', { name: 'Name' }), { target: { value: 'Opal' } });
    fireEvent.change(screen.getByLabelText('Came on'), { target: { value: '2026-03-05' } });
    fireEvent.click(screen.getByRole('button', { name: 'Add' }));
    await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
    expect(asked.find(({ method }) => method === 'POST')?.body).toEqual({
      site: 'room',
      species: 'crotaphytus_collaris',
      name: 'Opal',
      count: 1,
      sex: 'unknown',
      came_on: '2026-03-05',
    });
  });

  it('offers a viewer nothing that writes', async () => {
    stage(<CollectionPage />, { ...answers, 'GET /api/me': meAs('viewer', { accounts: true }) });
    await screen.findByRole('region', { name: 'Dry room' });
    expect(screen.queryByRole('button')).toBeNull();
    expect(screen.queryByRole('link', { name: 'New enclosure' })).toBeNull();
  });
});
