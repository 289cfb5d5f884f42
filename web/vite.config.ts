import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';
import { precache } from './src/offline/precache';

// `npm run dev` and `npm run preview` beside a running `dapple demo`; DAPPLE_AT says where, if it is not at its usual port.
const proxy = { '/api': process.env.DAPPLE_AT ?? 'http://127.0.0.1:8460' };

export default defineConfig({
  plugins: [react(), precache()],
  server: { proxy },
  preview: { proxy },
  build: {
    target: 'es2022',
    // three.js alone is larger than the default limit; it comes in only with the first 3-D view.
    chunkSizeWarningLimit: 1200,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  test: { include: ['src/**/*.test.ts', 'src/**/*.test.tsx'], environment: 'jsdom' },
});
