// A survey with the phone: by keyboard, without a network, through a killed program, by two people, and what the record
// holds afterwards.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { env } from 'node:process';
import AxeBuilder from '@axe-core/playwright';
import { expect, request as requests, test, type Page } from '@playwright/test';
import { fresh, make, makeEnclosure, siteOf, startProgram, things, type Program } from './record';

const field = (page: Page) => page.getByRole('textbox', { name: 'UVI' });
const waiting = (page: Page) => page.getByRole('link', { name: /^\d+ waiting/ });

async function open(page: Page, enclosure: string): Promise<void> {
  await page.goto(`/survey/${enclosure}`);
  await expect(field(page)).toBeVisible();
}

// As fast as somebody types; each value is seen before the next is begun.
async function type(page: Page, ...values: string[]): Promise<void> {
  await field(page).focus();
  for (const value of values) {
    await page.keyboard.type(value);
    await page.keyboard.press('Enter');
    await expect(page.getByTestId('said')).toHaveText(new RegExp(`^${value} taken`));
    await expect(field(page)).toHaveValue('');
  }
}

async function valuesIn(page: Page, enclosure: string): Promise<number[]> {
  const readings = await things(page.request, 'readings', { enclosure });
  return readings.map(({ value }) => value as number).sort((a, b) => a - b);
}

async function allSent(page: Page): Promise<void> {
  await expect(waiting(page)).toHaveText('0 waiting', { timeout: 90_000 });
}

test('a round by keyboard alone: chosen, read, taken back, ended, in the record', async ({ page }) => {
  const { id, name } = await makeEnclosure(page.request, await siteOf(page.request));
  await page.goto('/survey');
  await page.getByRole('link', { name: new RegExp(name) }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { level: 2, name: 'Flat stone' })).toBeVisible();
  await expect(field(page)).toBeFocused();
  await type(page, '4.2', '4.6');
  await expect(page.getByTestId('together')).toContainText('Median 4.4, 4.2 to 4.6, scatter 6 %');
  await expect(page.getByTestId('state')).toContainText('In the band');
  await page.keyboard.type('9');
  await expect(page.getByTestId('state')).toContainText('Above the band, over the ceiling');
  await page.keyboard.press('Backspace');
  await page.keyboard.type('2.5');
  await expect(page.getByTestId('state')).toContainText('Below the band');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('together')).toContainText('Median 4.2');
  await page.keyboard.press('Control+z');
  await expect(page.getByTestId('together')).toContainText('Median 4.4');
  await page.keyboard.press('ArrowRight');
  await expect(page.getByRole('heading', { level: 2, name: 'Branch' })).toBeVisible();
  await page.keyboard.type('3,1');
  await page.keyboard.press('ArrowRight'); // what is typed is taken along
  await expect(page.getByRole('heading', { level: 2, name: 'Cool end' })).toBeVisible();
  await page.keyboard.type('0.1');
  await expect(page.getByTestId('state')).toContainText('Shade enough for a retreat');
  const end = page.getByRole('button', { name: 'End the survey', exact: true });
  for (
    let tabs = 0;
    tabs < 30 && !(await end.evaluate((button) => button === document.activeElement));
    ++tabs
  )
    await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await expect(page.getByText('The survey has ended with 4 values.')).toBeVisible();
  await allSent(page);
  expect(await valuesIn(page, id)).toEqual([0.1, 3.1, 4.2, 4.6]);
  const surveys = await things(page.request, 'surveys', { enclosure: id });
  expect(surveys).toHaveLength(1);
  expect(surveys[0]?.ended_at).toBeTruthy();
});

test('the keys do by touch what the keyboard does; quantity, meter and what is in the way go along', async ({
  page,
}) => {
  const site = await siteOf(page.request);
  const { id } = await makeEnclosure(page.request, site);
  const meter = await make(page.request, 'meters', {
    site,
    name: fresh('Thermometer'),
    measures: 'temperature',
  });
  await open(page, id);
  for (const name of ['1', 'Point', '7', 'Erase the last digit', '5'])
    await page.getByRole('group', { name: 'Keys' }).getByRole('button', { name, exact: true }).click();
  await expect(field(page)).toHaveValue('1.5');
  await page.getByRole('button', { name: 'Something in the way' }).click();
  await expect(page.getByRole('button', { name: 'Something in the way' })).toHaveAttribute(
    'aria-pressed',
    'true',
  );
  await page.getByRole('button', { name: 'Next value' }).click();
  await expect(page.getByTestId('together')).toContainText('Median 1.5');
  await page.getByLabel('What is read').getByText('Temperature').click();
  await page.getByLabel('Meter').selectOption(meter.id);
  await page.getByRole('textbox', { name: 'Temperature' }).focus();
  await page.keyboard.type('41');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('together')).toContainText('Median 41');
  for (const key of await page.getByRole('group', { name: 'Keys' }).getByRole('button').all())
    expect((await key.boundingBox())?.height).toBeGreaterThanOrEqual(56);
  await allSent(page);
  const readings = await things(page.request, 'readings', { enclosure: id });
  expect(
    readings.map(({ quantity, value, note, meter: by, spot }) => [quantity, value, note, by, spot]).sort(),
  ).toEqual([
    ['temperature', 41, 'Something in the way', meter.id, 'bask'],
    ['uvi', 1.5, 'Something in the way', undefined, 'bask'],
  ]);
  await page.reload(); // the meter is remembered
  await page.getByLabel('What is read').getByText('Temperature').click();
  await expect(page.getByLabel('Meter')).toHaveValue(meter.id);
});

test('without a network everything is taken and kept, and sent when it is back', async ({
  page,
  context,
}) => {
  const { id } = await makeEnclosure(page.request, await siteOf(page.request));
  await open(page, id);
  await context.setOffline(true);
  await type(page, '3.3', '3.4', '3.5');
  await page.getByRole('textbox', { name: 'Note on Flat stone' }).fill('The fern has grown over');
  await page.getByRole('button', { name: 'Keep the note' }).click();
  await expect(waiting(page)).toHaveText('5 waiting');
  await waiting(page).click();
  await expect(page.getByRole('region', { name: 'Waiting' }).getByRole('listitem')).toHaveCount(5);
  await context.setOffline(false);
  await expect(page.getByText('Nothing waits to be sent.')).toBeVisible({ timeout: 90_000 });
  expect(await valuesIn(page, id)).toEqual([3.3, 3.4, 3.5]);
  const notes = await things(page.request, 'notes', { about: id });
  expect(notes.map(({ text }) => text)).toEqual(['Flat stone: The fern has grown over']);
});

test('a picture is made small, kept, and sent with a note that names it', async ({ page, context }) => {
  const { id } = await makeEnclosure(page.request, await siteOf(page.request));
  await open(page, id);
  await context.setOffline(true);
  const picture = await page.screenshot();
  await page
    .getByLabel('Take a picture')
    .setInputFiles({ name: 'x.png', mimeType: 'image/png', buffer: picture });
  await expect(page.getByText('The picture is kept.')).toBeVisible();
  await expect(waiting(page)).toHaveText('2 waiting');
  await context.setOffline(false);
  await allSent(page);
  const [note] = await things(page.request, 'notes', { about: id });
  const file = /file (\w{26})/.exec(String(note?.text))?.[1] ?? '';
  const kept = (await (await page.request.get(`/api/files/${file}`)).json()) as { text: string };
  expect(kept.text).toMatch(/^data:image\/jpeg;base64,/);
  expect(kept.text.length).toBeLessThanOrEqual(200_000);
});

// Requests that a service worker lets through are not seen by page.route.
test.describe('between the page and the record', () => {
  test.use({ serviceWorkers: 'block' });

  test('what the record refuses stays, with the reason, and goes when it is mended', async ({ page }) => {
    const { id } = await makeEnclosure(page.request, await siteOf(page.request));
    await open(page, id);
    // The record as it would refuse one reading of three.
    await page.route('**/api/writes', async (route) => {
      const { writes } = route.request().postDataJSON() as {
        writes: { kind: string; fields?: { value?: number } }[];
      };
      const isFaulty = writes.map(({ fields }) => fields?.value === 555);
      if (!isFaulty.includes(true)) return route.fallback();
      const rest = writes.filter((_, i) => !isFaulty[i]);
      const sent = await route.fetch({ postData: { writes: rest } });
      const answers = rest.length === 0 ? [] : ((await sent.json()) as { answers: unknown[] }).answers;
      const problem = { type: 'about:blank', title: 'The reading cannot be used', status: 422, problems: [] };
      const all = isFaulty.map((faulty) => (faulty ? { status: 422, problem } : answers.shift()));
      await route.fulfill({ json: { answers: all } });
    });
    await type(page, '5.1', '555', '5.3');
    await expect(waiting(page)).toHaveText('0 waiting, 1 refused');
    await waiting(page).click();
    const refused = page.getByRole('article', { name: 'Flat stone, UVI 555' });
    await expect(refused).toContainText('The reading cannot be used');
    await refused.getByRole('button', { name: 'Set aside' }).click();
    await expect(page.getByRole('heading', { name: 'Set aside (1)' })).toBeVisible();
    await refused.getByRole('button', { name: 'Mend' }).click();
    await refused.getByLabel('Value').fill('5.55');
    await refused.getByRole('button', { name: 'Send as mended' }).click();
    await expect(refused).toHaveCount(0);
    await expect(async () => expect(await valuesIn(page, id)).toEqual([5.1, 5.3, 5.55])).toPass();
  });
});

test('two people in one enclosure keep two surveys apart', async ({ browser }) => {
  const [a, b] = [await browser.newContext(), await browser.newContext()];
  const [anna, ben] = [await a.newPage(), await b.newPage()];
  const { id } = await makeEnclosure(anna.request, await siteOf(anna.request));
  await open(anna, id);
  await open(ben, id);
  await type(anna, '4.1');
  await type(ben, '6.1');
  await type(anna, '4.2');
  await allSent(anna);
  await allSent(ben);
  const readings = await things(anna.request, 'readings', { enclosure: id });
  const rounds = new Map<unknown, unknown[]>();
  for (const { survey, value } of readings) rounds.set(survey, [...(rounds.get(survey) ?? []), value].sort());
  expect([...rounds.values()].sort()).toEqual([[4.1, 4.2], [6.1]]);
  await a.close();
  await b.close();
});

// These need the built application with its service worker, served by the program itself.
test.describe('with a program of its own', () => {
  test.skip(
    env.APP !== undefined,
    'APP serves the application while it is being written, without a service worker',
  );
  const address = '127.0.0.1:8523';
  test.use({ baseURL: `http://${address}` });
  let folder = '';
  let program: Program | null = null;
  test.beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'dapple-survey-'));
  });
  test.afterEach(async () => {
    await program?.stop();
    program = null;
    await rm(folder, { recursive: true, force: true });
  });

  const prepared = async () => {
    const request = await requests.newContext({ baseURL: `http://${address}` });
    const { id } = await makeEnclosure(request, await siteOf(request));
    await request.dispose();
    return id;
  };

  test('the page is reloaded without a network and goes on where it was', async ({ page, context }) => {
    program = await startProgram(folder, address);
    const id = await prepared();
    await open(page, id);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await context.setOffline(true);
    await type(page, '4.1');
    await page.keyboard.type('4.');
    await expect(field(page)).toHaveValue('4.');
    await page.reload();
    await expect(field(page)).toHaveValue('4.');
    await expect(page.getByTestId('together')).toContainText('Median 4.1');
    await page.getByRole('link', { name: 'Survey', exact: true }).click();
    await expect(page.getByText('No answer from the server')).toBeVisible();
    await page.getByRole('link', { name: /Going on/ }).click();
    await field(page).focus();
    await page.keyboard.type('5');
    await page.keyboard.press('Enter');
    await expect(page.getByTestId('together')).toContainText('4.1 to 4.5');
    await page.close(); // the phone is put away
    const later = await context.newPage();
    await open(later, id);
    await expect(later.getByTestId('together')).toContainText('4.1 to 4.5');
    await context.setOffline(false);
    await allSent(later);
    expect(await valuesIn(later, id)).toEqual([4.1, 4.5]);
  });

  test.describe('between the page and the program', () => {
    test.use({ serviceWorkers: 'block' });

    test('a program killed in the middle of sending, twice, stores all of it once', async ({ page }) => {
      program = await startProgram(folder, address);
      const id = await prepared();
      await open(page, id);
      // First the write arrives and its answer is lost; then the program dies before the write arrives.
      let kills = 0;
      const died: Promise<void>[] = [];
      await page.route('**/api/writes', async (route) => {
        if (kills === 2) return route.fallback();
        if (kills === 0) await route.fetch();
        kills += 1;
        if (program) died.push(program.killNow());
        await route.abort('connectionreset');
      });
      await type(page, '1.1', '1.2', '1.3');
      await expect(() => expect(kills).toBe(1)).toPass();
      await Promise.all(died);
      await type(page, '1.4');
      await expect(waiting(page)).not.toHaveText('0 waiting');
      program = await startProgram(folder, address);
      await waiting(page).click();
      await page.getByRole('button', { name: 'Send now' }).click();
      await expect(() => expect(kills).toBe(2)).toPass({ timeout: 120_000 });
      await Promise.all(died);
      await page.goBack();
      await type(page, '1.5');
      program = await startProgram(folder, address);
      await allSent(page);
      expect(await valuesIn(page, id)).toEqual([1.1, 1.2, 1.3, 1.4, 1.5]);
      expect(await things(page.request, 'surveys', { enclosure: id })).toHaveLength(1);
    });
  });
});

for (const colorScheme of ['light', 'dark'] as const) {
  for (const viewport of [
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ]) {
    test(`the survey’s screens are accessible and fit, ${colorScheme}, ${viewport.width} wide`, async ({
      browser,
    }) => {
      const context = await browser.newContext({ colorScheme, viewport });
      const page = await context.newPage();
      const { id } = await makeEnclosure(page.request, await siteOf(page.request));
      const check = async (screen: string) => {
        const isWide = await page.locator('main').evaluate((main) => main.scrollWidth > main.clientWidth);
        expect(isWide, `${screen} is wider than the window`).toBe(false);
        const { violations } = await new AxeBuilder({ page })
          .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
          .analyze();
        expect(
          violations.map((v) => `${screen}: ${v.id} ${v.nodes.map((n) => n.target.join(' ')).join(' | ')}`),
        ).toEqual([]);
      };
      await page.goto('/survey');
      await expect(page.getByRole('link', { name: /Box/ }).first()).toBeVisible();
      await check('choosing');
      await open(page, id);
      await type(page, '4.2', '9.9');
      await check('a round');
      await waiting(page).click();
      await expect(page.getByRole('heading', { name: /Sent in the last days/ })).toBeVisible({
        timeout: 90_000,
      });
      await check('waiting');
      await context.close();
    });
  }
}
