// From nothing to the first verdict, against the program itself.
import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Page } from '@playwright/test';

async function chooseSpecies(page: Page): Promise<void> {
  await page.goto('/new');
  await page.getByLabel('Species').fill('crotaphitus');
  await page.getByRole('option', { name: /Crotaphytus collaris/ }).click();
  await expect(page.getByTestId('sheet')).toContainText('Crotaphytus collaris');
}

// The site that is made on the way is gone again for the specs that come after.
test.afterAll(async ({ request }) => {
  const answer = await request.get('/api/sites');
  const { things } = (await answer.json()) as { things: { id: string; name: string; revision: number }[] };
  for (const { id, revision } of things.filter(({ name }) => name === 'A site of the spec')) {
    await request.post(`/api/sites/${id}/retire`, { headers: { 'if-match': `"${String(revision)}"` } });
  }
});

test('lamps planned by the program lead to a verdict', async ({ page }) => {
  await chooseSpecies(page);
  await page.getByRole('button', { name: /^Middling/ }).click();
  await page.getByRole('button', { name: 'Plan lamps for me' }).click();
  await page.getByTestId('plan').first().click({ timeout: 180_000 });
  await page.getByLabel('Name of the enclosure').fill('Planned in the spec');
  await page.getByRole('button', { name: 'Make it and show the verdict' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Planned in the spec');
  await expect(page.getByTestId('overall')).not.toBeEmpty({ timeout: 120_000 });
});

test('lamps placed by hand, at a site made on the way', async ({ page }) => {
  await chooseSpecies(page);
  const finish = page.getByRole('button', { name: 'Make it and show the verdict' });
  await expect(finish).toBeDisabled();
  await page.getByRole('radio', { name: /I place lamps myself/ }).click();
  await page
    .getByRole('combobox', { name: 'Site' })
    .or(page.getByLabel('Site', { exact: true }))
    .first()
    .click();
  await page.getByRole('option', { name: 'Another site…' }).click();
  await page.getByLabel('Name of the site').fill('A site of the spec');
  await finish.click();
  await expect(page).toHaveURL(/\/collection\//);
  await expect(page.getByTestId('overall')).not.toBeEmpty({ timeout: 120_000 });
});

for (const scheme of ['light', 'dark'] as const) {
  for (const size of [
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ]) {
    test(`the first run is accessible and fits, ${scheme}, ${size.width} wide`, async ({ browser }) => {
      const context = await browser.newContext({ colorScheme: scheme, viewport: size });
      const page = await context.newPage();
      await chooseSpecies(page);
      expect(await page.evaluate(() => document.documentElement.scrollWidth > window.innerWidth)).toBe(false);
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
        .analyze();
      expect(violations.map((v) => `${v.id} ${v.nodes.map((n) => n.target.join(' ')).join(' | ')}`)).toEqual(
        [],
      );
      await context.close();
    });
  }
}
