// What a browser loads before there is a screen to use: `npm run weight`, against a running `dapple demo` or a production
// build before one (DAPPLE_AT says where, CHROMIUM which browser). Sums the gzipped bytes of everything but pictures and
// the record's own answers that came before the 3-D view began to load; e2e/weight.spec.ts holds them below 400 kB.
import { chromium } from '@playwright/test';
import { argv, env } from 'node:process';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';

const isOfView = (url) => /\/assets\/(EnclosureModel|Walls)-/.test(url);

// Gzipped here, so that a server that sends them plain is measured alike; fonts and pictures are packed already.
async function bytesOf(response) {
  const body = await response.body().catch(() => Buffer.alloc(0));
  const type = response.headers()['content-type'] ?? '';
  return /font|image/.test(type) ? body.length : gzipSync(body).length;
}

export async function weigh(page, address) {
  const loaded = [];
  const note = (response) => loaded.push(response);
  page.on('response', note);
  await page.goto(address, { waitUntil: 'load' });
  await page.getByRole('heading', { level: 1 }).waitFor({ timeout: 90_000 });
  await page.waitForLoadState('networkidle', { timeout: 10_000 }).catch(() => undefined);
  page.off('response', note);
  const parts = [];
  for (const response of loaded) {
    const { pathname } = new URL(response.url());
    if (pathname.startsWith('/api/') || isOfView(pathname)) continue;
    parts.push({ name: pathname, bytes: await bytesOf(response) });
  }
  return parts.sort((a, b) => b.bytes - a.bytes);
}

export const total = (parts) => parts.reduce((sum, { bytes }) => sum + bytes, 0);

if (import.meta.url === pathToFileURL(argv[1] ?? '').href) {
  const at = env.DAPPLE_AT ?? 'http://127.0.0.1:8460';
  const browser = await chromium.launch({
    executablePath: env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--enable-unsafe-swiftshader'],
  });
  for (const path of ['/today', '/collection/dry-wall']) {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    const parts = await weigh(page, at + path);
    console.log(`${path}: ${(total(parts) / 1000).toFixed(1)} kB gzipped in ${parts.length} files`);
    for (const { name, bytes } of parts.slice(0, 8))
      console.log(`  ${(bytes / 1000).toFixed(1).padStart(6)}  ${name}`);
    await page.close();
  }
  await browser.close();
}
