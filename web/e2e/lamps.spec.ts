// A lamp's life on the screen: added, put somewhere, aged by readings, replaced by one from store or a new one,
// discarded; and what the record holds afterwards.
import AxeBuilder from '@axe-core/playwright';
import { expect, test, type APIRequestContext, type Page } from '@playwright/test';
import { fresh, make, makeEnclosure, one, siteOf, things } from './record';

const day = (days: number) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

type Lamp = { id: string; name: string; enclosure: string; site: string };

// A tube that has burned for 200 days and lost a quarter of its light, read every month at the place where the animal
// basks. Readings follow exp(-alpha h) with alpha = 0.13 per 1000 h; a 90 % interval must hold it.
async function agedLamp(request: APIRequestContext): Promise<Lamp> {
  const site = await siteOf(request);
  const { id: enclosure } = await makeEnclosure(request, site);
  const name = fresh('Tube');
  const lamp = await make(request, 'lamps', {
    site,
    name,
    lamp_kind: 'fluorescent_tube',
    model: '55 cm, 24 W',
    price: 40,
    hours_on: 11,
  });
  const placed = await request.post(`/api/lamps/${lamp.id}/place`, {
    headers: { 'if-match': `"${lamp.revision}"` },
    data: { enclosure, place: 'uv', day: day(-200) },
  });
  expect(placed.ok(), await placed.text()).toBe(true);
  for (const days of [10, 40, 70, 100, 130, 160, 190]) {
    const value = 5 * Math.exp((-0.13 * days * 11) / 1000);
    await make(request, 'readings', {
      site,
      enclosure,
      spot: 'bask',
      lamp: lamp.id,
      quantity: 'uvi',
      value: Number(value.toFixed(3)),
      taken_at: `${day(days - 200)}T12:00:00.000Z`,
    });
  }
  return { id: lamp.id, name, enclosure, site };
}

const deeds = (page: Page) => page.getByRole('region', { name: 'The lamp' });

test('a lamp’s decay, its date with an interval and its readings are told in words and numbers', async ({
  page,
}) => {
  const lamp = await agedLamp(page.request);
  await page.goto('/lamps');
  await page.getByRole('link', { name: lamp.name, exact: true }).first().click();
  await expect(page.getByRole('heading', { level: 1, name: lamp.name })).toBeVisible();
  const life = page.getByRole('region', { name: 'Its life' });
  await expect(life).toContainText(/Leaves the band: \d+ \w+ \d{4} \(90 %: /);
  await expect(
    life.getByRole('img', { name: /^UVI at Flat stone over the lamp’s hours: 7 readings/ }),
  ).toBeVisible();
  const [, low = '', high = ''] = /\(90 %: (\d+) to (\d+) %\)/.exec(await life.innerText()) ?? [];
  const lost = 100 * (1 - Math.exp(-0.13));
  expect(Number(low)).toBeLessThanOrEqual(lost);
  expect(Number(high)).toBeGreaterThanOrEqual(Math.floor(lost));
  await life.getByText('Its 7 readings as numbers').click();
  await expect(life.getByRole('row')).toHaveCount(8);
});

test('a lamp is replaced by a new one, which takes its place', async ({ page }) => {
  const lamp = await agedLamp(page.request);
  const name = fresh('New tube');
  await page.goto(`/lamps/${lamp.id}`);
  await deeds(page).getByRole('button', { name: 'Replace', exact: true }).click();
  const form = page.getByRole('region', { name: 'Replace', exact: true });
  await form.getByLabel('By').selectOption({ label: 'A new lamp of the same sort' });
  await form.getByLabel('Name or label of the new lamp').fill(name);
  await form.getByLabel('Price').fill('42.5');
  await form.getByRole('button', { name: 'Replace it' }).click();
  await expect(deeds(page)).toContainText('Retired on');
  expect((await one(page.request, 'lamps', lamp.id)).retired_on).toBe(day(0));
  const made = (await things(page.request, 'lamps', { enclosure: lamp.enclosure })).filter(
    (one) => one.name === name,
  );
  expect(made).toHaveLength(1);
  expect(made[0]).toMatchObject({ place: 'uv', model: '55 cm, 24 W', price: 42.5, hours_on: 11 });
  await expect(page.getByRole('region', { name: 'What happened to it' })).toContainText('Discarded');
});

test('a lamp from store takes another’s place, once, whoever was quicker', async ({ page }) => {
  const lamp = await agedLamp(page.request);
  const spare = await make(page.request, 'lamps', {
    site: lamp.site,
    name: fresh('Spare'),
    lamp_kind: 'fluorescent_tube',
    model: '55 cm, 24 W',
  });
  await page.goto(`/lamps/${lamp.id}`);
  await deeds(page).getByRole('button', { name: 'Replace', exact: true }).click();
  const form = page.getByRole('region', { name: 'Replace', exact: true });
  await form.getByLabel('By').selectOption(spare.id);
  await form.getByRole('button', { name: 'Replace it' }).click();
  await expect(deeds(page)).toContainText('Retired on');
  expect(await one(page.request, 'lamps', spare.id)).toMatchObject({
    enclosure: lamp.enclosure,
    place: 'uv',
  });
});

test('a lamp is added, put into an enclosure, back into store, noted and discarded', async ({ page }) => {
  const site = await siteOf(page.request);
  const { id: enclosure } = await makeEnclosure(page.request, site);
  const name = fresh('Added');
  await page.goto('/lamps');
  await page.getByRole('button', { name: 'Add a lamp' }).click();
  await page.getByLabel('Name or label').fill(name);
  await page.getByLabel('How it makes its light or heat').selectOption('halogen');
  await page.getByLabel('Power, W').fill('75');
  await page.getByRole('button', { name: 'Add it' }).click();
  await page
    .getByRole('region', { name: /^In store/ })
    .getByRole('link', { name, exact: true })
    .click();
  await deeds(page).getByRole('button', { name: 'Put into an enclosure' }).click();
  await page.getByRole('combobox', { name: 'Enclosure' }).selectOption(enclosure);
  await page.getByLabel('As which lamp of its model').selectOption('uv');
  await page.getByRole('button', { name: 'Put it there' }).click();
  await expect(deeds(page)).toContainText('The tube');
  await deeds(page).getByRole('button', { name: 'Back into store' }).click();
  await page.getByRole('button', { name: 'Put it into store' }).click();
  await expect(deeds(page)).toContainText('In store');
  await page.getByLabel('A new note').fill('Hums a little');
  await page.getByRole('button', { name: 'Keep the note' }).click();
  await expect(page.getByRole('region', { name: 'Notes' }).getByRole('listitem')).toContainText(
    'Hums a little',
  );
  await deeds(page).getByRole('button', { name: 'Discard' }).click();
  await page.getByRole('region', { name: 'Discard' }).getByLabel('Note').fill('Broken');
  await page.getByRole('button', { name: 'Discard it for good' }).click();
  await expect(deeds(page)).toContainText('Retired on');
  const [lamp] = (await things(page.request, 'lamps', { name })).filter((one) => one.name === name);
  expect(lamp).toMatchObject({ lamp_kind: 'halogen', power_w: 75, retired_on: day(0) });
});

for (const colorScheme of ['light', 'dark'] as const) {
  for (const viewport of [
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ]) {
    test(`the lamps’ screens are accessible and fit, ${colorScheme}, ${viewport.width} wide`, async ({
      browser,
    }) => {
      const context = await browser.newContext({ colorScheme, viewport });
      const page = await context.newPage();
      const lamp = await agedLamp(page.request);
      for (const path of ['/lamps', `/lamps/${lamp.id}`]) {
        await page.goto(path);
        await expect(page.getByRole('heading', { level: 2 }).first()).toBeVisible();
        if (path !== '/lamps') {
          await expect(page.getByRole('img', { name: /^UVI at/ })).toBeVisible();
          await deeds(page).getByRole('button', { name: 'Replace', exact: true }).click();
        } else await page.getByRole('button', { name: 'Add a lamp' }).click();
        await expect(page.getByRole('status')).toHaveCount(0);
        const isWide = await page.locator('main').evaluate((main) => main.scrollWidth > main.clientWidth);
        expect(isWide, `${path} is wider than the window`).toBe(false);
        const { violations } = await new AxeBuilder({ page })
          .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
          .analyze();
        expect(
          violations.map((v) => `${path}: ${v.id} ${v.nodes.map((n) => n.target.join(' ')).join(' | ')}`),
        ).toEqual([]);
      }
      await context.close();
    });
  }
}
