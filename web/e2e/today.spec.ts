// What is due, and that the action beside it settles it.
import { expect, test, type Page } from '@playwright/test';
import { expectAccessible, looks, withLook } from './accessible';
import { aBox, dayFromNow, make, read, siteOf, unique } from './making';

// Lamp lives are worked out the first time somebody asks what is due.
const firstAnswer = { timeout: 180_000 };

async function openToday(page: Page) {
  await page.goto('/today');
  await expect(page.getByRole('status', { name: 'Loading what is due' })).toHaveCount(0, firstAnswer);
  await expect(page.getByRole('heading', { name: 'Today', exact: true })).toBeVisible();
}

test('a task that is overdue is settled, with its fix, from where it stands', async ({ page }) => {
  const site = await siteOf(page);
  const id = unique('box');
  await make(page, 'enclosures', { site: site.id, document: aBox(id, `Box ${id}`) });
  const title = `Raise the stone of ${id}`;
  const fix = { ...aBox(id, `Box ${id}`), spots: [{ id: 'stone', position_cm: [30, 20, 14], role: 'bask' }] };
  const task = await make(page, 'tasks', {
    site: site.id,
    title,
    enclosure: id,
    due_on: dayFromNow(-3),
    fix,
  });
  await openToday(page);
  const overdue = page.getByRole('region', { name: 'Overdue' });
  await expect(overdue.getByRole('heading', { name: title })).toBeVisible();
  await overdue.getByRole('button', { name: `Settle it: ${title}` }).click();
  const dialog = page.getByRole('dialog', { name: title });
  await expect(dialog.getByRole('checkbox', { name: 'Apply the fix to the model' })).toBeChecked();
  await expectAccessible(page, 'settling a task');
  await dialog.getByRole('button', { name: 'Done, change the model' }).click();
  await expect(page.getByText(`Done: ${title}`)).toBeVisible();
  await expect(page.getByRole('heading', { name: title })).toHaveCount(0);
  expect((await read<{ done_on?: string }>(page, `/api/tasks/${task.id}`)).done_on).toBeTruthy();
  const changed = await read<{ document: typeof fix }>(page, `/api/enclosures/${id}`);
  expect(changed.document.spots[0]?.position_cm).toEqual([30, 20, 14]);
});

test('a meter that was never calibrated is calibrated from where it stands', async ({ page }) => {
  const site = await siteOf(page);
  const name = unique('Pen');
  const meter = await make(page, 'meters', {
    site: site.id,
    name,
    measures: 'uvi',
    bought_on: dayFromNow(-500),
  });
  await openToday(page);
  await page.getByRole('button', { name: `Enter calibration: Calibrate ${name}` }).click();
  const dialog = page.getByRole('dialog', { name: `Calibration of ${name}` });
  await dialog.getByRole('textbox', { name: /^Factor/ }).fill('1.04');
  await dialog.getByRole('textbox', { name: /^Certificate/ }).fill('Bench lamp 7');
  await dialog.getByRole('button', { name: 'Keep the calibration' }).click();
  await expect(dialog).toHaveCount(0);
  await expect(page.getByRole('heading', { name: `Calibrate ${name}` })).toHaveCount(0);
  const { things } = await read<{ things: object[] }>(page, `/api/calibrations?meter=${meter.id}`);
  expect(things).toMatchObject([{ factor: 1.04, certificate: 'Bench lamp 7' }]);
});

test('an enclosure that was never read leads to its survey', async ({ page }) => {
  const site = await siteOf(page);
  const id = unique('unread');
  await make(page, 'enclosures', { site: site.id, document: aBox(id, `Box ${id}`) });
  await openToday(page);
  await page.getByRole('link', { name: `Survey it: Survey Box ${id}` }).click();
  await expect(page).toHaveURL(new RegExp(`/survey/${id}$`));
});

for (const look of looks) {
  test(`today is accessible and fits, ${look.name}`, async ({ browser }) => {
    await withLook(browser, look, async (page) => {
      await openToday(page);
      await page.getByText('Before you reach into an enclosure').click();
      await expectAccessible(page, 'today');
    });
  });
}

test('on a phone the screens are within the thumb’s reach', async ({ browser }) => {
  const phone = { scheme: 'light', size: { width: 390, height: 844 }, name: 'phone' } as const;
  await withLook(browser, phone, async (page) => {
    await page.goto('/today');
    const bar = page.getByRole('navigation', { name: 'Screens' });
    await expect(bar.getByRole('link')).toHaveText(['Today', 'Collection', 'Survey', 'Lamps']);
    for (const target of [...(await bar.getByRole('link').all()), bar.getByRole('button')]) {
      const box = await target.boundingBox();
      // WCAG 2.2, 2.5.5 (enhanced): targets of 44 by 44 CSS pixels.
      expect(box?.height).toBeGreaterThanOrEqual(44);
      expect(box?.width).toBeGreaterThanOrEqual(44);
      expect((box?.y ?? 0) + (box?.height ?? 0)).toBeGreaterThan(800);
    }
    await bar.getByRole('button', { name: 'More' }).click();
    const more = page.getByRole('dialog', { name: 'More' });
    await expectAccessible(page, 'more');
    await more.getByRole('link', { name: 'Species' }).click();
    await expect(more).toHaveCount(0);
    await expect(page.getByRole('heading', { name: 'Species', exact: true })).toBeVisible();
  });
});

test('a server that cannot be reached is said to be, and so is its return', async ({ page }) => {
  await openToday(page);
  const isAsked = (url: URL) => url.pathname.startsWith('/api/');
  await page.route(isAsked, (route) => route.abort());
  await page.getByRole('link', { name: 'Species' }).first().click();
  await expect(page.getByText(/cannot be reached just now/)).toBeVisible();
  await page.unroute(isAsked);
  await expect(page.getByText(/cannot be reached just now/)).toHaveCount(0);
});
