// Saving, conflicts and drafts with a server that answers as the interface says it does.
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { act, renderHook, waitFor } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { KeptEnclosure } from '../../api/schema';
import { draftOf } from './draft';
import { useEditing } from './useEditing';

const kept = (revision: number, name: string): KeptEnclosure => ({
  kind: 'enclosure',
  id: 'box',
  site: 'home',
  revision,
  made: { at: '2026-01-01T00:00:00Z', by: 'first' },
  changed: { at: '2026-01-02T00:00:00Z', by: 'second' },
  retired_at: null,
  document: { format: 'dapple/enclosure@1', id: 'box', name, size_cm: [120, 60, 60] },
  room: 'north',
});

const answer = (status: number, body: unknown) =>
  new Response(JSON.stringify(body), {
    status,
    headers: { 'content-type': status < 400 ? 'application/json' : 'application/problem+json' },
  });

type Put = { seen: string | null; body: { document: { name: string }; room?: string } };
const puts: Put[] = [];
let onServer = kept(1, 'Box');

function serve(init: RequestInit = {}): Response {
  if (init.method !== 'PUT') return answer(200, onServer);
  const seen = new Headers(init.headers).get('if-match');
  const body = JSON.parse(init.body as string) as Put['body'];
  puts.push({ seen, body });
  if (seen !== `"${onServer.revision}"`)
    return answer(412, { type: '', title: 'Changed meanwhile', status: 412, problems: [], theirs: onServer });
  onServer = { ...kept(onServer.revision + 1, body.document.name) };
  return answer(200, onServer);
}

function editing() {
  const queries = new QueryClient();
  const wrapper = ({ children }: { children: ReactNode }) => (
    <QueryClientProvider client={queries}>{children}</QueryClientProvider>
  );
  return renderHook(() => useEditing(onServer), { wrapper });
}

beforeEach(() => {
  localStorage.clear();
  puts.length = 0;
  onServer = kept(1, 'Box');
  vi.stubGlobal('fetch', (_address: string, init?: RequestInit) => Promise.resolve(serve(init)));
});
afterEach(() => vi.unstubAllGlobals());

describe('editing', () => {
  it('saves all fields against the revision seen, and is unsaved until then', async () => {
    const { result } = editing();
    expect(result.current.isUnsaved).toBe(false);
    act(() => result.current.change('rename', (now) => ({ ...now, name: 'New' })));
    expect(result.current.isUnsaved).toBe(true);
    expect(draftOf('box')?.fields.document.name).toBe('New');
    act(() => result.current.save());
    await waitFor(() => expect(result.current.isUnsaved).toBe(false));
    expect(puts).toEqual([
      { seen: '"1"', body: { document: { ...kept(1, 'New').document }, room: 'north' } },
    ]);
    expect(result.current.base.revision).toBe(2);
    expect(draftOf('box')).toBeNull();
  });

  it('met by another’s save shows theirs; mine is kept against their revision', async () => {
    const { result } = editing();
    act(() => result.current.change('rename', (now) => ({ ...now, name: 'Mine' })));
    onServer = kept(2, 'Theirs');
    act(() => result.current.save());
    await waitFor(() => expect(result.current.theirs?.document.name).toBe('Theirs'));
    expect(result.current.saveError).toBeNull();
    act(() => {
      result.current.keepMine();
    });
    await waitFor(() => expect(result.current.isUnsaved).toBe(false));
    expect(puts.at(-1)?.seen).toBe('"2"');
    expect(onServer.document.name).toBe('Mine');
  });

  it('taking theirs is a step that can be taken back', async () => {
    const { result } = editing();
    act(() => result.current.change('rename', (now) => ({ ...now, name: 'Mine' })));
    onServer = kept(2, 'Theirs');
    act(() => result.current.save());
    await waitFor(() => expect(result.current.theirs).not.toBeNull());
    act(() => {
      result.current.takeTheirs();
    });
    expect(result.current.document.name).toBe('Theirs');
    expect(result.current.isUnsaved).toBe(false);
    act(() => result.current.undo());
    expect(result.current.document.name).toBe('Mine');
  });

  it('announces another’s save while there is something unsaved, and shows it at once where there is not', async () => {
    const { result } = editing();
    const announce = (revision: number) =>
      act(() => {
        const detail = { seq: 1, kind: 'enclosure', id: 'box', site: 'home', revision, deed: 'change' };
        window.dispatchEvent(new CustomEvent('dapple-change', { detail }));
      });
    act(() => result.current.change('rename', (now) => ({ ...now, name: 'Mine' })));
    announce(2);
    expect(result.current.others.newer).toBe(2);
    expect(result.current.document.name).toBe('Mine');
    onServer = kept(2, 'Theirs');
    act(() => result.current.undo());
    await waitFor(() => expect(result.current.document.name).toBe('Theirs'));
    expect(result.current.base.revision).toBe(2);
  });

  it('offers a draft on return, and saves it against the version it was made on', async () => {
    const first = editing();
    act(() => first.result.current.change('rename', (now) => ({ ...now, name: 'Draft' })));
    first.unmount();
    onServer = kept(4, 'Later');
    const { result } = editing();
    expect(result.current.document.name).toBe('Later');
    act(() => result.current.takeDraft());
    expect(result.current.document.name).toBe('Draft');
    act(() => result.current.save());
    await waitFor(() => expect(result.current.theirs?.document.name).toBe('Later'));
    expect(puts.at(-1)?.seen).toBe('"1"');
  });
});
