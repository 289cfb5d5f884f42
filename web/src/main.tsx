import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import '@mantine/core/styles.css';
import './look.css';

import { MantineProvider } from '@mantine/core';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App';
import { keepWhatComes } from './offline/keeping';
import { registerServiceWorker } from './offline/newerVersion';
import { OfflineLine } from './offline/OfflineLine';
import { sendingHere } from './offline/sendingHere';
import { theme } from './theme';

// The server puts a fresh word here with every page; styles made at run time carry it (Content-Security-Policy).
const nonce = () => document.querySelector('meta[name="csp-nonce"]')?.getAttribute('content') ?? '';

const queries = new QueryClient({
  defaultOptions: { queries: { retry: 1, refetchOnWindowFocus: false } },
});

keepWhatComes(queries);
sendingHere.start();
if (import.meta.env.PROD) void registerServiceWorker();

const root = document.getElementById('root');
if (root) {
  createRoot(root).render(
    <StrictMode>
      <MantineProvider theme={theme} defaultColorScheme="auto" getStyleNonce={nonce}>
        <QueryClientProvider client={queries}>
          <OfflineLine />
          <App />
        </QueryClientProvider>
      </MantineProvider>
    </StrictMode>,
  );
}
