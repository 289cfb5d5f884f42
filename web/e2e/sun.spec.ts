// The sun's screen against the program itself. The spec makes its own pen through the interface.
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';

const pen = {
  format: 'dapple/enclosure@1',
  id: 'sun-spec-lawn',
  name: 'Lawn of the sun spec',
  size_cm: [200, 100, 60],
  walls: { floor: 'grass', left: 'open', right: 'open', front: 'open', back: 'open', top: 'open' },
  outdoors: { lat: 48.2, lon: 16.4, bearing_deg: 0, time_zone: 'Europe/Vienna' },
  animals: [{ species: 'testudo_hermanni', back_height_cm: 8, zone: [3] }],
  furniture: [{ id: 'board', shape: 'box', min_cm: [0, 0, 30], max_cm: [60, 100, 32], material: 'wood' }],
  spots: [{ id: 'sunny', name: 'In the sun', position_cm: [140, 50, 0], role: 'bask' }],
};

async function makePen(page: Page): Promise<void> {
  const me = (await (await page.request.get('/api/me')).json()) as {
    csrf: string | null;
    sites: { site: { id: string } }[];
  };
  const kept = (await (await page.request.get('/api/enclosures')).json()) as {
    things: { id: string; document: { id: string } }[];
  };
  if (kept.things.some(({ document }) => document.id === pen.id)) return;
  const made = await page.request.post('/api/enclosures', {
    headers: {
      'idempotency-key': crypto.randomUUID(),
      ...(me.csrf !== null ? { 'x-dapple-csrf': me.csrf } : {}),
    },
    data: { site: me.sites[0]?.site.id, document: pen },
  });
  expect(made.ok(), await made.text()).toBe(true);
}

async function openSun(page: Page, address = '/sun'): Promise<void> {
  await page.goto(address);
  await expect(page.getByTestId('reading')).toBeVisible({ timeout: 120_000 });
}

async function setDay(page: Page, day: string): Promise<void> {
  const answer = page.waitForResponse((r) => r.url().endsWith('/api/sun') && r.ok(), { timeout: 120_000 });
  await page.getByLabel('Day', { exact: true }).fill(day);
  await answer;
}

test('the day of every zone stands in clock time, with its cautions first and its numbers below', async ({
  page,
}) => {
  await openSun(page);
  await setDay(page, '2026-06-21');
  await expect(page.getByRole('list', { name: 'Cautions' }).getByRole('listitem').first()).toContainText(
    'overheats',
  );
  await expect(page.getByText(/^UV zone 3/)).toContainText(/\d\d:\d\d to \d\d:\d\d/);
  await expect(page.getByRole('img', { name: /^UV index through the day: highest/ })).toBeVisible();
  await expect(page.getByRole('row', { name: /^12:00/ })).toContainText(/low|moderate|high|extreme/);
});

test('the hour is a slider, read in words', async ({ page }) => {
  await openSun(page);
  const reading = page.getByTestId('reading');
  const before = await reading.innerText();
  await page.getByRole('slider', { name: 'Time of day' }).focus();
  await page.keyboard.press('ArrowRight');
  await expect(reading).not.toHaveText(before);
});

test('a forecast file takes the model’s place, and the model comes back', async ({ page }) => {
  await openSun(page);
  await setDay(page, '2026-06-21');
  await page.locator('input[type=file]').setInputFiles({
    name: 'day.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(
      [
        'time,uvi',
        ...[6, 8, 10, 12, 14, 16, 18, 20].map((h) => `2026-06-21T${String(h).padStart(2, '0')}:00,2.5`),
      ].join('\n'),
    ),
  });
  const row = page.getByRole('row', { name: /^12:00/ });
  await expect(row).toContainText('2.5');
  await page.getByRole('button', { name: 'Back to the model' }).click();
  await expect(row).not.toContainText('2.5');
});

test('a forecast that cannot be read is refused with its line', async ({ page }) => {
  await openSun(page);
  await page.locator('input[type=file]').setInputFiles({
    name: 'wrong.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('time,uvi\nnoon,3\n'),
  });
  await expect(page.getByRole('alert')).toContainText('line 2');
});

test('a pen outdoors shows its windows, its dose, and its shadows at the chosen hour', async ({ page }) => {
  await makePen(page);
  await page.goto(`/sun?enclosure=${pen.id}`);
  await setDay(page, '2026-06-21');
  await expect(page.getByTestId('windows')).toContainText(/\d\d:\d\d to \d\d:\d\d/, { timeout: 120_000 });
  await expect(page.getByText(/J\/m².*erythemal/)).toBeVisible();
  await expect(page.locator('canvas')).toBeVisible();
  const words = page.getByTestId('pen-words');
  await expect(words).toContainText(/It shines on \d+\s% of the floor/);
  const noon = await words.innerText();
  const slider = page.getByRole('slider', { name: 'Time of day' });
  await slider.focus();
  for (let i = 0; i < 24; ++i) await page.keyboard.press('ArrowLeft');
  await expect(words).not.toHaveText(noon);
  await page.getByText('Sun and shadow', { exact: true }).click();
  await expect(page.getByText('full shadow')).toBeVisible();
});

for (const scheme of ['light', 'dark'] as const) {
  for (const size of [
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ]) {
    test(`the sun is accessible and fits, ${scheme}, ${size.width} wide`, async ({ browser }) => {
      const context = await browser.newContext({ colorScheme: scheme, viewport: size });
      const page = await context.newPage();
      await makePen(page);
      for (const address of ['/sun', `/sun?enclosure=${pen.id}`]) {
        await openSun(page, address);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth > window.innerWidth);
        expect(wide, `${address} is wider than the window`).toBe(false);
        const { violations } = await new AxeBuilder({ page })
          .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
          .analyze();
        expect(
          violations.map((v) => `${address}: ${v.id} ${v.nodes.map((n) => n.target.join(' ')).join(' | ')}`),
        ).toEqual([]);
      }
      await context.close();
    });
  }
}
