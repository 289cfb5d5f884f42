// The collection at a glance: found, judged, moved, noted.
import { expect, test, type Page } from '@playwright/test';
import { expectAccessible, looks, withLook } from './accessible';
import { aBox, make, read, siteOf, unique } from './making';

async function twoBoxes(page: Page) {
  const site = await siteOf(page);
  const [from, to, room] = [unique('box'), unique('box'), unique('Room')];
  const kept = await make(page, 'rooms', { site: site.id, name: room });
  for (const id of [from, to]) {
    await make(page, 'enclosures', { site: site.id, room: kept.id, document: aBox(id, `Box ${id}`) });
  }
  return { site, from, to, room };
}

// One enclosure's entry in the list.
const entry = (page: Page, id: string) =>
  page.getByRole('listitem').filter({ has: page.getByRole('heading', { name: `Box ${id}` }) });

test('an enclosure is found by its room, judged, and shows what comes next', async ({ page }) => {
  const { from, to, room } = await twoBoxes(page);
  await page.goto('/collection');
  await page.getByRole('searchbox', { name: 'Find an enclosure' }).fill(room.toUpperCase());
  await expect(page.getByRole('heading', { level: 2 })).toHaveText([room]);
  await expect(page.getByRole('heading', { level: 3 })).toHaveCount(2);
  for (const id of [from, to]) {
    const line = entry(page, id);
    await expect(line.getByText('never', { exact: true })).toBeVisible();
    // The verdict comes beside the requests; its strip then carries the band.
    await expect(line.getByRole('img', { name: /^Band .* UVI/ })).toBeVisible({ timeout: 180_000 });
  }
  await page.getByRole('searchbox', { name: 'Find an enclosure' }).fill(`${room} no such word`);
  await expect(page.getByText(/No enclosure fits/)).toBeVisible();
});

test('the verdict takes the place that was kept for it', async ({ page }) => {
  const { from } = await twoBoxes(page);
  await page.goto('/collection');
  await page.getByRole('searchbox', { name: 'Find an enclosure' }).fill(from);
  const line = entry(page, from);
  await expect(line).toBeVisible();
  const before = await line.boundingBox();
  await expect(line.getByRole('status')).toHaveCount(0, { timeout: 180_000 });
  const after = await line.boundingBox();
  expect(Math.abs((after?.height ?? 0) - (before?.height ?? 0))).toBeLessThanOrEqual(2);
});

test('an animal is added, moved and noted', async ({ page }) => {
  const { from, to } = await twoBoxes(page);
  const name = unique('Opal');
  await page.goto('/collection');
  await page.getByRole('button', { name: 'Add an animal' }).click();
  const adding = page.getByRole('dialog', { name: 'Add an animal' });
  await adding.getByRole('textbox', { name: /^Species/ }).fill('crotaphitus collaris');
  await adding.getByRole('option', { name: /Crotaphytus collaris/ }).click();
  await adding.getByRole('textbox', { name: 'Name' }).fill(name);
  await adding.getByRole('combobox', { name: /^Enclosure/ }).selectOption({ label: `Box ${from}` });
  await expectAccessible(page, 'adding an animal');
  await adding.getByRole('button', { name: 'Add', exact: true }).click();
  await expect(adding).toHaveCount(0);
  await expect(entry(page, from).getByText(name)).toBeVisible();

  await page.getByRole('button', { name: `Move ${name}` }).click();
  const moving = page.getByRole('dialog', { name: `Move ${name}` });
  await moving.getByRole('combobox', { name: /^To/ }).selectOption({ label: `Box ${to}` });
  await moving.getByRole('textbox', { name: 'Note' }).fill('Warmer there');
  await moving.getByRole('button', { name: 'Move', exact: true }).click();
  await expect(entry(page, to).getByText(name)).toBeVisible();
  await expect(entry(page, from).getByText(name)).toHaveCount(0);

  await page.getByRole('button', { name: `Write a note on ${name}` }).click();
  const noting = page.getByRole('dialog', { name: `Note on ${name}` });
  await noting.getByRole('textbox', { name: /^Note/ }).fill('Shed in one piece.');
  await noting.getByRole('button', { name: 'Keep the note' }).click();
  await expect(noting).toHaveCount(0);
  await page.getByRole('button', { name: `Write a note on ${name}` }).click();
  await expect(page.getByText('Shed in one piece.')).toBeVisible();

  const animals = await read<{ things: { id: string; species: string; enclosure: string }[] }>(
    page,
    `/api/animals?name=${encodeURIComponent(name)}`,
  );
  expect(animals.things).toMatchObject([{ species: 'crotaphytus_collaris', enclosure: to }]);
  const moves = await read<{ things: object[] }>(page, `/api/moves?animal=${animals.things[0]?.id ?? ''}`);
  expect(moves.things).toMatchObject([{ from_enclosure: from, to_enclosure: to, note: 'Warmer there' }]);
});

test('a species’ sheet says where the collection keeps it', async ({ page }) => {
  const { from } = await twoBoxes(page);
  await page.goto('/species/crotaphytus_collaris');
  const kept = page.getByRole('region', { name: 'Kept here' });
  await kept.getByRole('link', { name: `Box ${from}` }).click();
  await expect(page).toHaveURL(new RegExp(`/collection/${from}$`));
});

for (const look of looks) {
  test(`the collection and a species’ sheet are accessible and fit, ${look.name}`, async ({ browser }) => {
    await withLook(browser, look, async (page) => {
      await page.goto('/collection');
      await expect(page.getByRole('heading', { level: 3 }).first()).toBeVisible();
      await expectAccessible(page, 'the collection');
      await page.goto('/species/crotaphytus_collaris');
      await expect(page.getByRole('region', { name: 'Kept here' })).toBeVisible();
      await expectAccessible(page, 'a sheet');
    });
  });
}
