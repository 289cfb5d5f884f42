// The report's screen against the program itself.
import { expect, test } from '@playwright/test';
import { readFile } from 'node:fs/promises';
import { expectAccessible, looks, withLook } from './accessible';

test('a report of one enclosure is made, saved and is a PDF', async ({ page }) => {
  await page.goto('/collection/reed-margin');
  await page.getByRole('link', { name: 'On paper' }).click();
  const form = page.getByRole('form', { name: 'The record on paper' });
  await expect(form.getByLabel('Of what')).toHaveValue('reed-margin');
  await form.getByLabel('Since').fill('2026-01-01');
  await form.getByRole('button', { name: 'Make the report' }).click();
  const save = page.getByRole('link', { name: /^Save report-\d{4}-\d\d-\d\d\.pdf$/ });
  await expect(save).toBeVisible({ timeout: 120_000 });
  const download = page.waitForEvent('download');
  await save.click();
  const bytes = await readFile(await (await download).path());
  expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
  expect(bytes.length).toBeGreaterThan(20_000);
});

test('labels that are too small to be read are refused in words, larger ones made', async ({ page }) => {
  await page.goto('/report');
  const form = page.getByRole('form', { name: 'Labels for the enclosures' });
  await form.getByLabel('Below one another').fill('30');
  await form.getByLabel('Beside one another').fill('12');
  await form.getByRole('button', { name: 'Make the labels' }).click();
  await expect(page.getByRole('alert')).toContainText(/mm/);
  await form.getByLabel('Below one another').fill('5');
  await form.getByLabel('Beside one another').fill('2');
  await form.getByRole('button', { name: 'Make the labels' }).click();
  await expect(page.getByRole('link', { name: /^Save labels-/ })).toBeVisible();
});

test('the calendar is at the address that is shown', async ({ page }) => {
  await page.goto('/report');
  const address = await page.getByText('/api/calendar?').innerText();
  const answer = await page.request.get(address);
  expect(answer.headers()['content-type']).toContain('text/calendar');
  expect(await answer.text()).toContain('BEGIN:VEVENT');
});

for (const look of looks) {
  test(`the report's screen is accessible and fits, ${look.name}`, async ({ browser }) => {
    await withLook(browser, look, async (page) => {
      await page.goto('/report');
      await expect(page.getByRole('button', { name: 'Make the report' })).toBeVisible();
      await expectAccessible(page, 'report');
    });
  });
}
