// Screens under test: the providers around them, and a server that answers from a list. A question nobody prepared for
// is a failure of the test, not an empty answer.
import { MantineProvider } from '@mantine/core';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { cleanup, configure, render } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, vi } from 'vitest';
import type { Me, Role, Site } from '../api/schema';
import { theme } from '../theme';

export type Asked = { method: string; address: string; body: unknown; headers: Headers };
// A machine that does other things too may take its time.
configure({ asyncUtilTimeout: 20_000, getElementError: (message) => new Error(message ?? 'not found') });
vi.setConfig({ testTimeout: 60_000 });

type Answer = object | symbol | null;
export type Answers = Record<string, Answer | ((asked: Asked) => Answer)>; // by "GET /api/me"

export class Refused {
  constructor(
    readonly status: number,
    readonly details: object,
  ) {}
}
export const outOfReach = Symbol('out of reach');

// What a browser has and jsdom has not.
function furnish() {
  window.matchMedia = (query) => ({
    matches: false,
    media: query,
    onchange: null,
    addListener: () => undefined,
    removeListener: () => undefined,
    addEventListener: () => undefined,
    removeEventListener: () => undefined,
    dispatchEvent: () => false,
  });
  vi.stubGlobal(
    'ResizeObserver',
    class {
      observe = () => undefined;
      unobserve = () => undefined;
      disconnect = () => undefined;
    },
  );
  vi.stubGlobal(
    'EventSource',
    class {
      addEventListener = () => undefined;
      close = () => undefined;
    },
  );
  Element.prototype.scrollIntoView = () => undefined;
  HTMLDialogElement.prototype.showModal = function () {
    this.open = true;
  };
  HTMLDialogElement.prototype.close = function () {
    this.open = false;
  };
}

function answerTo(answers: Answers, asked: Asked): Response {
  const prepared = answers[`${asked.method} ${asked.address.split('?')[0] ?? ''}`];
  if (prepared === undefined) throw new Error(`nobody prepared for ${asked.method} ${asked.address}`);
  const answer = typeof prepared === 'function' ? (prepared as (a: Asked) => Answer)(asked) : prepared;
  if (answer === outOfReach) throw new TypeError('Failed to fetch');
  if (answer instanceof Refused) {
    return new Response(JSON.stringify({ type: 'about:blank', problems: [], ...answer.details }), {
      status: answer.status,
      headers: { 'content-type': 'application/problem+json' },
    });
  }
  return answer === null ? new Response(null, { status: 204 }) : Response.json(answer);
}

// Shows a screen; `asked` gathers what it asked the server, in order.
export function stage(screen: ReactNode, answers: Answers) {
  furnish();
  const asked: Asked[] = [];
  vi.stubGlobal('fetch', (address: string, init: RequestInit = {}) => {
    const one = {
      method: init.method ?? 'GET',
      address,
      body: typeof init.body === 'string' && init.body !== '' ? parsed(init.body) : init.body,
      headers: new Headers(init.headers),
    };
    asked.push(one);
    return Promise.resolve().then(() => answerTo(answers, one));
  });
  const queries = new QueryClient({ defaultOptions: { queries: { retry: false } } });
  render(
    <MantineProvider theme={theme} env="test" defaultColorScheme="auto">
      <QueryClientProvider client={queries}>{screen}</QueryClientProvider>
    </MantineProvider>,
  );
  return { asked };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  localStorage.clear();
});

const signed = { at: '2026-03-01T10:00:00.000Z', by: 'local' };
export const kept = { site: 'room', revision: 3, made: signed, changed: signed, retired_at: null };
export const aSite: Site = { kind: 'site', id: 'room', ...kept, name: 'Reed House', time_zone: 'UTC' };

export function meAs(role: Role, { accounts = false, sites = [aSite] } = {}): Me {
  return {
    person: { kind: 'person', id: 'kim', ...kept, site: null, name: 'Kim', settings: {} },
    accounts,
    csrf: 'word',
    sites: sites.map((site) => ({ site, role })),
  };
}
export const stranger: Me = { person: null, accounts: true, csrf: null, sites: [] };

// The first of several alike.
export function firstOf<T>(things: readonly T[]): T {
  const [first] = things;
  if (first === undefined) throw new Error('There is none');
  return first;
}
