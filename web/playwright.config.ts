import { defineConfig } from '@playwright/test';
import { env } from 'node:process';

// The journey runs against the program itself: `dapple demo`, built beforehand. DAPPLE names it.
const dapple = env.DAPPLE ?? '../build/release/dapple';
const address = '127.0.0.1:8471';
// APP: an address that already serves the application, while it is being written.
const app = env.APP;

export default defineConfig({
  testDir: 'e2e',
  outputDir: 'test-results',
  timeout: 240_000,
  expect: { timeout: 30_000 },
  workers: 1,
  retries: 2,
  reporter: 'list',
  use: {
    baseURL: app ?? `http://${address}`,
    launchOptions: {
      executablePath: env.CHROMIUM ?? '/usr/bin/chromium',
      args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
    },
  },
  ...(app === undefined && {
    webServer: {
      command: `env -u DISPLAY -u WAYLAND_DISPLAY ${dapple} demo --listen ${address}`,
      url: `http://${address}/`,
      timeout: 240_000,
    },
  }),
});
