// Editing an enclosure against the program itself: steps, saving, others' saves, pieces, readings, fixes.
import { expect, test, type Page } from '@playwright/test';
import { askEnclosure, makeEnclosure, openDesk, saveElsewhere } from './enclosures';

const saved = (page: Page) => page.getByTestId('saved');
const pieces = (page: Page) => page.getByRole('region', { name: 'What stands in it' });
const choose = (page: Page, name: string) =>
  pieces(page)
    .getByRole('button', { name: new RegExp(`^${name}`) })
    .click();
const height = (page: Page) => page.getByRole('textbox', { name: 'UV tube: height, cm' });

test('a change is a step: undone, done again, saved to the record', async ({ page }) => {
  const { id } = await makeEnclosure(page);
  await openDesk(page, id);
  await expect(saved(page)).toHaveText('All saved');
  await choose(page, 'UV tube');
  await height(page).fill('47');
  await height(page).blur();
  await expect(saved(page)).toContainText('Not saved');
  await page.keyboard.press('Control+z');
  await expect(height(page)).toHaveValue('53');
  await expect(saved(page)).toHaveText('All saved');
  await page.keyboard.press('Control+Shift+Z');
  await expect(height(page)).toHaveValue('47');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await expect(saved(page)).toHaveText('All saved');
  expect((await askEnclosure(page, id)).document.lamps[0]?.centre_cm).toEqual([45, 22, 47]);
});

test('what is not saved is kept as a draft and offered on return', async ({ page }) => {
  const { id } = await makeEnclosure(page);
  await openDesk(page, id);
  await choose(page, 'UV tube');
  await height(page).fill('45');
  await expect(saved(page)).toContainText('a draft is kept');
  page.on('dialog', (dialog) => void dialog.accept()); // leaving with unsaved changes is asked about
  await openDesk(page, id);
  await page.getByRole('button', { name: 'Take up the draft' }).click();
  await choose(page, 'UV tube');
  await expect(height(page)).toHaveValue('45');
});

test('a save that somebody else came before shows both versions', async ({ page }) => {
  const { id } = await makeEnclosure(page);
  await openDesk(page, id);
  await choose(page, 'UV tube');
  await height(page).fill('46');
  await height(page).blur();
  await saveElsewhere(page, id, 'Renamed elsewhere');
  await expect(page.getByRole('status', { name: 'Somebody else saved' })).toBeVisible();
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByRole('region', { name: 'What you changed' })).toContainText('UV tube, place');
  await expect(dialog.getByRole('region', { name: 'What they changed' })).toContainText('Renamed elsewhere');
  await dialog.getByRole('button', { name: 'Keep mine' }).click();
  await expect(saved(page)).toHaveText('All saved');
  const now = await askEnclosure(page, id);
  expect(now.revision).toBe(3);
  expect(now.document.lamps[0]?.centre_cm[2]).toBe(46);
});

test('where nothing is unsaved, what somebody else saves is shown at once', async ({ page }) => {
  const { id } = await makeEnclosure(page);
  await openDesk(page, id);
  await saveElsewhere(page, id, 'Renamed meanwhile');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Renamed meanwhile');
  await expect(page.getByRole('status', { name: 'A newer version is shown' })).toBeVisible();
});

test('pieces are added, duplicated, moved by keys and taken out; the history brings all back', async ({
  page,
}) => {
  const { id } = await makeEnclosure(page);
  await openDesk(page, id);
  await pieces(page).getByRole('button', { name: 'Add…' }).click();
  await page.getByRole('menuitem', { name: 'Branch' }).click();
  const form = page.getByRole('region', { name: 'Chosen: Branch' });
  await expect(form).toBeVisible();
  await form.getByRole('button', { name: 'Duplicate' }).click();
  await expect(pieces(page).getByRole('button', { name: /^Branch/ })).toHaveCount(2);
  await form.getByRole('button', { name: 'Take out' }).click();
  await expect(pieces(page).getByRole('button', { name: /^Branch/ })).toHaveCount(1);

  await choose(page, 'Flat stone');
  const left = page.getByRole('textbox', { name: 'Flat stone: middle from left, cm' });
  await expect(left).toHaveValue('45');
  await page.getByRole('group', { name: /^Model of the enclosure/ }).focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowRight');
  await expect(left).toHaveValue('51');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await expect(saved(page)).toHaveText('All saved');

  await page.getByRole('button', { name: 'History' }).click();
  const history = page.getByRole('region', { name: 'History' });
  await expect(history).toContainText('furniture added: Branch');
  await history.getByRole('button', { name: 'Bring back version 1' }).click();
  await expect(left).toHaveValue('45');
  await expect(saved(page)).toHaveText('All saved');
});

test('what the server refuses is said beside the part it is about', async ({ page }) => {
  const { id } = await makeEnclosure(page);
  await openDesk(page, id);
  await choose(page, 'Flat stone');
  const wide = page.getByRole('textbox', { name: 'Flat stone: width, cm' });
  await wide.fill('400');
  await expect(page.getByRole('region', { name: 'Chosen: Flat stone' }).getByRole('alert')).toBeVisible();
  await expect(pieces(page).getByText('refused: look here')).toBeVisible();
});

test('readings of the record stand beside what is predicted, with its interval', async ({ page }) => {
  const { id, site } = await makeEnclosure(page);
  for (const [i, value] of [3.1, 3.3, 3.2].entries()) {
    const answer = await page.request.post('/api/readings', {
      data: {
        site,
        enclosure: id,
        spot: 'bask',
        quantity: 'uvi',
        value,
        taken_at: `2026-05-02T10:0${i.toString()}:00.000Z`,
      },
    });
    expect(answer.ok(), await answer.text()).toBe(true);
  }
  await openDesk(page, id);
  const spot = page.getByTestId('spot-bask');
  await expect(spot).toContainText('Read 3.2', { timeout: 90_000 });
  await expect(spot).toContainText(/Predicted [\d.]+–[\d.]+/, { timeout: 90_000 });
});

test('a fix is tried on, kept as a task, and accepted as a step', async ({ page }) => {
  const { id } = await makeEnclosure(page);
  await openDesk(page, id);
  const fixes = page.getByRole('region', { name: 'Fixes' });
  await expect(page.getByTestId('overall')).not.toBeEmpty({ timeout: 90_000 });
  const first = fixes.getByTestId('fix').first();
  const look = fixes.getByRole('button', { name: 'Look for several changes together' });
  await expect(first.or(look).first()).toBeVisible({ timeout: 120_000 });
  if (!(await first.isVisible())) await look.click();
  await expect(first).toBeVisible({ timeout: 180_000 });
  await first.getByRole('button', { name: 'Keep as a task' }).click();
  await expect(first.getByRole('button', { name: 'Kept as a task' })).toBeVisible();
  const tasks = (await (await page.request.get(`/api/tasks?enclosure=${id}`)).json()) as {
    things: { fix?: object }[];
  };
  expect(tasks.things.some(({ fix }) => fix !== undefined)).toBe(true);
  await first.getByRole('button', { name: 'Try on' }).click();
  await expect(page.getByText('Trying on:')).toBeVisible();
  await page.getByRole('button', { name: 'Accept' }).first().click();
  await expect(saved(page)).toContainText('Not saved');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(saved(page)).toHaveText('All saved');
});

test('warmth and where to measure next are answered', async ({ page }) => {
  const { id } = await makeEnclosure(page);
  await openDesk(page, id);
  await expect(page.getByRole('region', { name: 'Warmth' }).getByRole('row')).toHaveCount(3, {
    timeout: 90_000,
  });
  const next = page.getByRole('region', { name: 'Where to measure next' });
  await next.getByRole('button', { name: 'Find the places' }).click();
  await expect(next.getByRole('listitem').first().or(next.getByText('No further reading'))).toBeVisible({
    timeout: 120_000,
  });
});
