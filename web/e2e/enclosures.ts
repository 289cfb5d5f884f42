// What the specs make for themselves through the interface, so that none depends on another.
import { expect, type Page } from '@playwright/test';

export const box = (id: string) => ({
  format: 'dapple/enclosure@1',
  id,
  name: `Bench ${id}`,
  size_cm: [90, 45, 50],
  walls: { floor: 'soil', left: 'pvc_white', right: 'pvc_white', front: 'float_glass', back: 'pvc_white' },
  animals: [{ species: 'crotaphytus_collaris', count: 1 }],
  lamps: [
    {
      id: 'uv',
      name: 'UV tube',
      kind: 'tube',
      length_cm: 55,
      centre_cm: [45, 22, 53],
      spread: { forward_power: 2 },
      spectrum: 'fluorescent_uvb_strong',
      output: { uvi: 4, at_cm: 30 },
      power_w: 24,
    },
  ],
  furniture: [
    {
      id: 'stone',
      name: 'Flat stone',
      shape: 'box',
      min_cm: [30, 12, 0],
      max_cm: [60, 32, 10],
      material: 'slate',
      perch: true,
    },
  ],
  spots: [
    { id: 'bask', name: 'On the stone', position_cm: [45, 22, 10], role: 'bask' },
    { id: 'cool', name: 'Far corner', position_cm: [84, 40, 0], role: 'retreat' },
  ],
});

export type Kept = {
  id: string;
  site: string;
  revision: number;
  document: ReturnType<typeof box>;
};

let made = 0;
export async function makeEnclosure(page: Page): Promise<Kept> {
  const id = `e2e-${Date.now().toString(36)}-${(made++).toString()}`;
  const me = (await (await page.request.get('/api/me')).json()) as { sites: { site: { id: string } }[] };
  const site = me.sites[0]?.site.id ?? '';
  const answer = await page.request.post('/api/enclosures', {
    data: { id, site, document: box(id) },
    headers: { 'idempotency-key': id },
  });
  expect(answer.ok(), await answer.text()).toBe(true);
  return (await answer.json()) as Kept;
}

export async function askEnclosure(page: Page, id: string): Promise<Kept> {
  return (await (await page.request.get(`/api/enclosures/${id}`)).json()) as Kept;
}

// As somebody else would, at another desk.
export async function saveElsewhere(page: Page, id: string, name: string): Promise<Kept> {
  const now = await askEnclosure(page, id);
  const answer = await page.request.put(`/api/enclosures/${id}`, {
    data: { document: { ...now.document, name } },
    headers: { 'if-match': `"${now.revision.toString()}"` },
  });
  expect(answer.ok(), await answer.text()).toBe(true);
  return (await answer.json()) as Kept;
}

export async function openDesk(page: Page, id: string): Promise<void> {
  await page.goto(`/collection/${id}`);
  await expect(page.getByRole('toolbar', { name: 'Editing' })).toBeVisible({ timeout: 90_000 });
}
