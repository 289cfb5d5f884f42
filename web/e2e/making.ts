// Things a spec makes for itself through the interface, so that specs do not lean on each other.
import { expect, type Page } from '@playwright/test';

export type Made = { id: string; revision: number; site: string };
type Sites = { sites: { site: { id: string; name: string } }[] };

let count = 0;
export const unique = (word: string) => `${word}-${Date.now().toString(36)}-${++count}`;

export async function siteOf(page: Page): Promise<{ id: string; name: string }> {
  const me = (await (await page.request.get('/api/me')).json()) as Sites;
  const site = me.sites[0]?.site;
  if (!site) throw new Error('the record has no site');
  return site;
}

export async function make(page: Page, plural: string, fields: object): Promise<Made> {
  const answer = await page.request.post(`/api/${plural}`, { data: fields });
  expect(answer.status(), await answer.text()).toBe(201);
  return (await answer.json()) as Made;
}

export async function read<T>(page: Page, address: string): Promise<T> {
  const answer = await page.request.get(address);
  expect(answer.ok(), await answer.text()).toBe(true);
  return (await answer.json()) as T;
}

// A box with one lamp, one animal and one spot: quick to judge.
export function aBox(id: string, name: string) {
  return {
    format: 'dapple/enclosure@1',
    id,
    name,
    size_cm: [60, 40, 40],
    animals: [{ species: 'crotaphytus_collaris', count: 1, back_height_cm: 4 }],
    lamps: [
      {
        id: 'uv',
        kind: 'tube',
        length_cm: 40,
        diameter_cm: 1.6,
        centre_cm: [30, 20, 36],
        along: [1, 0, 0],
        aim: [0, 0, -1],
        spectrum: 'fluorescent_uvb_strong',
        output: { uvi: 4, at_cm: 20 },
      },
    ],
    spots: [{ id: 'stone', name: 'Stone', position_cm: [30, 20, 8], role: 'bask' }],
  };
}

// A day so many days from now, as the record writes it.
export const dayFromNow = (days: number) =>
  new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);
