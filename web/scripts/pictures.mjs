// Makes docs/pictures/*.png from a running `dapple demo`: node scripts/pictures.mjs http://127.0.0.1:8460
// Every screen at desk and phone size, light and dark; the guide and README show some of them.
import { mkdir } from 'node:fs/promises';
import { chromium } from 'playwright-core';

const address = (process.argv[2] ?? 'http://127.0.0.1:8460').replace(/\/$/, '');
const only = process.argv[3];
const folder = new URL('../../docs/pictures/', import.meta.url).pathname;
const sizes = { desk: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } };

const screens = [
  { name: 'today', path: '/today' },
  { name: 'collection', path: '/collection' },
  { name: 'enclosure', path: '/collection/south-wall' },
  { name: 'survey-choose', path: '/survey' },
  { name: 'survey', path: '/survey/red-ledge' },
  { name: 'lamps', path: '/lamps' },
  { name: 'sun', path: '/sun' },
  { name: 'species', path: '/species/uromastyx_ornata' },
  { name: 'report', path: '/report' },
  { name: 'settings', path: '/settings' },
  { name: 'new', path: '/new' },
];

async function take(browser, screen, size, colorScheme) {
  const page = await browser.newPage({ viewport: sizes[size], colorScheme });
  await page.goto(address + screen.path, { waitUntil: 'load' });
  await page.waitForSelector('h1', { timeout: 60_000 });
  // Something that says it is waiting; a picture is taken all the same in the end.
  const isQuiet = () => document.querySelector('[aria-busy="true"]') === null;
  await page.waitForFunction(isQuiet, null, { timeout: 60_000 }).catch(() => undefined);
  await page.waitForTimeout(4000); // the model draws when its last answer has come
  const name = [screen.name, size === 'desk' ? '' : size, colorScheme === 'light' ? '' : colorScheme]
    .filter((word) => word !== '')
    .join('-');
  await page.screenshot({ path: `${folder}${name}.png` });
  await page.close();
}

await mkdir(folder, { recursive: true });
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
});
for (const screen of screens.filter(({ name }) => only === undefined || name === only)) {
  for (const size of ['desk', 'phone']) {
    for (const colorScheme of ['light', 'dark']) await take(browser, screen, size, colorScheme);
  }
}
await browser.close();
