// What a first visit costs, counted, not timed: bytes before the 3-D view, and how far the page jumps while it comes.
import { expect, test, type Page } from '@playwright/test';
import { total, weigh } from '../scripts/weight.mjs';

const most_bytes = 400_000;
// web.dev "Cumulative Layout Shift": 0.1 is called good; here nothing that can be seen may move.
const most_shift = 0.01;

async function firstEnclosure(page: Page): Promise<string> {
  const answer = await page.request.get('/api/enclosures?limit=1');
  const { things } = (await answer.json()) as { things: { id: string }[] };
  return `/collection/${things[0]?.id ?? ''}`;
}

for (const screen of ['today', 'enclosure'] as const) {
  test(`${screen}: what is loaded before the 3-D view stays below 400 kB`, async ({ page }) => {
    const parts = await weigh(page, screen === 'today' ? '/today' : await firstEnclosure(page));
    expect(parts.length).toBeGreaterThan(3);
    expect(total(parts), JSON.stringify(parts.slice(0, 6))).toBeLessThan(most_bytes);
  });
}

// A verdict that comes in is news, and may move the list of what to do; here it is the way a page is put together that counts.
async function verdictsAreThere(page: Page): Promise<void> {
  const areAllThere = async () => {
    const answer = await page.request.get('/api/collection');
    const { cards } = (await answer.json()) as { cards: { judging: boolean }[] };
    return cards.every(({ judging }) => !judging);
  };
  await expect.poll(areAllThere, { timeout: 180_000, intervals: [1000] }).toBe(true);
}

type Shift = { value: number; what: string };

function watchShifts() {
  const shifts: Shift[] = [];
  Object.assign(window, { shifts });
  type Entry = PerformanceEntry & {
    value: number;
    hadRecentInput: boolean;
    sources: readonly { node: Node | null }[];
  };
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries() as Entry[]) {
      if (entry.hadRecentInput) continue;
      const what = entry.sources.map(({ node }) =>
        node instanceof Element ? node.outerHTML.slice(0, 90) : '',
      );
      shifts.push({ value: entry.value, what: what.join(' | ') });
    }
  }).observe({ type: 'layout-shift', buffered: true });
}

for (const size of [
  { width: 1440, height: 900 },
  { width: 390, height: 844 },
]) {
  for (const screen of ['/today', '/collection', 'enclosure', '/lamps']) {
    test(`${screen} does not jump while it comes, ${String(size.width)} wide`, async ({ browser }) => {
      const context = await browser.newContext({ viewport: size });
      const page = await context.newPage();
      await verdictsAreThere(page);
      await page.addInitScript(watchShifts);
      await page.goto(screen === 'enclosure' ? await firstEnclosure(page) : screen);
      await expect(page.getByRole('heading', { level: 1 })).toBeVisible({ timeout: 90_000 });
      if (screen === 'enclosure')
        await expect(page.getByTestId('overall')).not.toBeEmpty({ timeout: 120_000 });
      await page.waitForLoadState('networkidle', { timeout: 10_000 }).catch(() => undefined);
      const shifts = await page.evaluate(() => (window as unknown as { shifts: Shift[] }).shifts);
      const sum = shifts.reduce((all, { value }) => all + value, 0);
      expect(sum, JSON.stringify(shifts, null, 1)).toBeLessThanOrEqual(most_shift);
      await context.close();
    });
  }
}
