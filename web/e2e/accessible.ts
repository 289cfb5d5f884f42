// What every screen must hold: WCAG 2.2 AA as far as axe can tell, and no wider than the window.
import AxeBuilder from '@axe-core/playwright';
import { expect, type Browser, type Page } from '@playwright/test';

export const looks = (['light', 'dark'] as const).flatMap((scheme) =>
  [
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ].map((size) => ({ scheme, size, name: `${scheme}, ${size.width} wide` })),
);
export type Look = (typeof looks)[number];

export async function expectAccessible(page: Page, what: string): Promise<void> {
  const isWide = await page.evaluate(() => document.documentElement.scrollWidth > window.innerWidth);
  expect(isWide, `${what} is wider than the window`).toBe(false);
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
    .analyze();
  expect(
    violations.map((v) => `${what}: ${v.id} ${v.nodes.map((n) => n.target.join(' ')).join(' | ')}`),
  ).toEqual([]);
}

export async function withLook(browser: Browser, look: Look, see: (page: Page) => Promise<void>) {
  const context = await browser.newContext({ colorScheme: look.scheme, viewport: look.size });
  try {
    await see(await context.newPage());
  } finally {
    await context.close();
  }
}
