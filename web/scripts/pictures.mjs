// Makes docs/pictures/*.png from a running `dapple demo`: node scripts/pictures.mjs http://127.0.0.1:8460
import { mkdir } from 'node:fs/promises';
import { chromium } from 'playwright-core';

const address = process.argv[2] ?? 'http://127.0.0.1:8460';
const folder = new URL('../../docs/pictures/', import.meta.url).pathname;
const desk = { width: 1440, height: 900 };
const phone = { width: 390, height: 844 };

const pictures = [
  { name: 'collection', path: '/collection', viewport: desk, colorScheme: 'light' },
  { name: 'enclosure', path: '/collection/dry-wall', viewport: desk, colorScheme: 'light' },
  { name: 'enclosure-dark', path: '/collection/cloud-oak', viewport: desk, colorScheme: 'dark' },
  { name: 'enclosure-phone', path: '/collection/fern-gully', viewport: phone, colorScheme: 'light' },
  { name: 'species', path: '/species/uromastyx_ornata', viewport: desk, colorScheme: 'light' },
];

await mkdir(folder, { recursive: true });
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
});
for (const { name, path, viewport, colorScheme } of pictures) {
  const page = await browser.newPage({ viewport, colorScheme });
  await page.goto(address.replace(/\/$/, '') + path, { waitUntil: 'networkidle' });
  await page.waitForFunction(() => document.querySelector('[role="status"]') === null, null, {
    timeout: 60_000,
  });
  await page.waitForTimeout(1500); // the model draws when its last answer has come
  await page.screenshot({ path: `${folder}${name}.png` });
  await page.close();
}
await browser.close();
