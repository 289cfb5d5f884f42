import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import '@mantine/core/styles.css';
import './look.css';

import { MantineProvider } from '@mantine/core';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App';
import { theme } from './theme';

// The server puts a fresh word here with every page; styles made at run time carry it (Content-Security-Policy).
const nonce = () => document.querySelector('meta[name="csp-nonce"]')?.getAttribute('content') ?? '';

const queries = new QueryClient({
  defaultOptions: { queries: { retry: 1, refetchOnWindowFocus: false } },
});

const root = document.getElementById('root');
if (root) {
  createRoot(root).render(
    <StrictMode>
      <MantineProvider theme={theme} defaultColorScheme="auto" getStyleNonce={nonce}>
        <QueryClientProvider client={queries}>
          <App />
        </QueryClientProvider>
      </MantineProvider>
    </StrictMode>,
  );
}
