// Units that go with the person, imports with a preview, what belongs to the site.
import { expect, test, type Page } from '@playwright/test';
import { expectAccessible, looks, withLook } from './accessible';
import { aBox, make, read, siteOf, unique } from './making';

async function open(page: Page, part: string) {
  await page.goto('about:blank'); // a mere change of the part would not load the page anew
  await page.goto(`/settings#${part}`);
  await expect(page.getByRole('heading', { name: 'Settings', exact: true })).toBeVisible();
  await expect(page.getByRole('status')).toHaveCount(0, { timeout: 120_000 });
}

const choose = async (page: Page, name: string) => {
  const kept = page.waitForResponse((r) => r.url().endsWith('/api/me/settings') && r.ok());
  await page.getByRole('region', { name: 'You' }).getByText(name, { exact: true }).click();
  await kept;
};

test('inches and degrees Fahrenheit are kept with the person and seen on every screen', async ({
  page,
  browser,
}) => {
  const site = await siteOf(page);
  const id = unique('box');
  await make(page, 'enclosures', { site: site.id, document: aBox(id, `Box ${id}`) });
  await open(page, 'you');
  await choose(page, 'inch');
  await choose(page, '°F');
  try {
    // Another browser of the same person: nothing there but what the server kept.
    const context = await browser.newContext();
    const other = await context.newPage();
    await other.goto('/collection');
    await other.getByRole('searchbox').fill(id);
    // 60 × 40 × 40 cm
    await expect(other.getByText('23.6 × 15.7 × 15.7 in')).toBeVisible();
    await other.goto('/species/crotaphytus_collaris');
    await expect(other.getByRole('row', { name: /^Basking surface/ })).toContainText('°F');
    await context.close();
  } finally {
    await choose(page, 'cm');
    await choose(page, '°C');
  }
  const me = await read<{ person: { settings: object } }>(page, '/api/me');
  expect(me.person.settings).toMatchObject({ length: 'cm', temperature: 'c' });
});

test('readings are brought in after a preview, and the same file adds nothing the second time', async ({
  page,
}) => {
  const site = await siteOf(page);
  const id = unique('box');
  await make(page, 'enclosures', { site: site.id, document: aBox(id, `Box ${id}`) });
  const table = [
    'date,enclosure,spot,quantity,value',
    `2026-02-03,${id},stone,uvi,3.9`,
    `2026-02-03,${id},stone,uvi,4.1`,
    `2026-02-20,${id},stone,uvi,3.8`,
  ].join('\n');
  const file = { name: 'winter.csv', mimeType: 'text/csv', buffer: Buffer.from(table) };
  await open(page, 'in-and-out');
  const field = page.locator('input[type=file]').first();
  await field.setInputFiles(file);
  await expect(page.getByText('It would add 3 readings, from 3 Feb 2026 to 20 Feb 2026.')).toBeVisible();
  const readings = `/api/readings?enclosure=${id}`;
  expect((await read<{ things: object[] }>(page, readings)).things, 'a preview adds nothing').toHaveLength(0);
  await expectAccessible(page, 'a preview');
  await page.getByRole('button', { name: 'Bring it in' }).click();
  await expect(page.getByText('Brought in: 3 things from winter.csv.')).toBeVisible();
  expect((await read<{ things: object[] }>(page, readings)).things).toHaveLength(3);

  await open(page, 'in-and-out');
  await field.setInputFiles(file);
  await expect(page.getByText('There is nothing new in it.')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Bring it in' })).toHaveCount(0);
});

test('a table with a fault says where it is and cannot be brought in', async ({ page }) => {
  await open(page, 'in-and-out');
  const buffer = Buffer.from('date,enclosure,spot,quantity,value\n2026-02-03,no-such-box,stone,uvi,3.9\n');
  const file = { name: 'faulty.csv', mimeType: 'text/csv', buffer };
  await page.locator('input[type=file]').first().setInputFiles(file);
  const wrong = page.getByRole('list', { name: 'What is wrong' });
  await expect(wrong).toContainText('no-such-box');
  await expect(page.getByRole('button', { name: 'Bring it in' })).toHaveCount(0);
});

test('the collection goes out as a zip, and comes in again without adding anything', async ({ page }) => {
  await open(page, 'in-and-out');
  const address = await page.getByRole('link', { name: 'Export the collection' }).getAttribute('href');
  const zip = await page.request.get(address ?? '');
  expect(zip.ok()).toBe(true);
  const buffer = await zip.body();
  expect(buffer.subarray(0, 2).toString()).toBe('PK'); // the signature of a zip (APPNOTE.TXT 4.3.7)
  const file = { name: 'collection.zip', mimeType: 'application/zip', buffer };
  await page.locator('input[type=file]').nth(1).setInputFiles(file);
  await expect(page.getByText('There is nothing new in it.')).toBeVisible({ timeout: 120_000 });
});

test('a room and a meter are added, changed and seen in the trail', async ({ page }) => {
  const [room, meter] = [unique('Room'), unique('Pen')];
  await open(page, 'site');
  await page.getByRole('button', { name: 'Add a room' }).click();
  await page.getByRole('dialog').getByRole('textbox', { name: /^Name/ }).fill(room);
  await page.getByRole('button', { name: 'Add the room' }).click();
  await expect(page.getByRole('list', { name: 'Rooms' }).getByText(room)).toBeVisible();
  await page.getByRole('button', { name: `Change ${room}` }).click();
  await page.getByRole('dialog').getByRole('textbox', { name: /^Name/ }).fill(`${room} north`);
  await page.getByRole('button', { name: 'Keep the changes' }).last().click();
  await expect(page.getByText(`${room} north`)).toBeVisible();

  await open(page, 'meters');
  await page.getByRole('button', { name: 'Add a meter' }).click();
  await page.getByRole('dialog').getByRole('textbox', { name: /^Name/ }).fill(meter);
  await page.getByRole('button', { name: 'Add the meter' }).click();
  const row = page.getByRole('listitem').filter({ hasText: meter });
  await expect(row.getByText('Never calibrated')).toBeVisible();
  await row.getByRole('button', { name: 'Enter a calibration' }).click();
  await page.getByRole('textbox', { name: /^Factor/ }).fill('0.97');
  await page.getByRole('button', { name: 'Keep the calibration' }).click();
  await expect(row.getByText(/reading × 0\.97/)).toBeVisible();

  await open(page, 'trail');
  const trail = page.getByRole('list', { name: /^The trail/ });
  await expect(trail.getByText(`added a meter: ${meter}`)).toBeVisible();
  await expect(trail.getByText(`changed a room: ${room} north`)).toBeVisible();
});

test('the site keeps where it lies', async ({ page }) => {
  const site = await siteOf(page);
  await open(page, 'site');
  const note = unique('South side');
  await page.getByRole('form', { name: 'The site' }).getByRole('textbox', { name: 'Note' }).fill(note);
  await page.getByRole('button', { name: 'Keep the changes' }).click();
  await expect(page.getByText('Kept.')).toBeVisible();
  expect(await read<object>(page, `/api/sites/${site.id}`)).toMatchObject({ name: site.name, note });
});

test('the version is that of the program', async ({ page }) => {
  await open(page, 'about');
  const { info } = await read<{ info: { version: string } }>(page, '/api/openapi.json');
  await expect(page.getByText(`Version ${info.version}`)).toBeVisible();
});

for (const look of looks) {
  test(`the settings are accessible and fit, ${look.name}`, async ({ browser }) => {
    await withLook(browser, look, async (page) => {
      for (const part of ['you', 'site', 'meters', 'people', 'in-and-out', 'trail', 'about']) {
        await open(page, part);
        await expectAccessible(page, part);
      }
    });
  });
}
