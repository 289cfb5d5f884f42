// What the screens ask the record, and how they write to it. Whatever a write may have touched is asked anew;
// events.ts does the same for what others write.
import { useMutation, useQuery, useQueryClient, type UseMutationResult } from '@tanstack/react-query';
import { get, setCsrf, type With } from './client';
import type { Due, Me, paths } from './schema';

// Addresses of the record's kinds: "lamps", "readings", ...
type PluralOf<P> = P extends `/api/${infer Plural}/{id}/history` ? Plural : never;
export type Plural = PluralOf<keyof paths>;
export type ThingOf<K extends Plural> = paths[`/api/${K}/{id}`] extends {
  get: { responses: { 200: { content: { 'application/json': infer T } } } };
}
  ? T
  : never;

export async function askMe(signal?: AbortSignal): Promise<Me> {
  const me = await get('/api/me', signal ? { signal } : {});
  setCsrf(me.csrf);
  return me;
}

export function useMe() {
  return useQuery({ queryKey: ['me'], queryFn: ({ signal }) => askMe(signal), staleTime: 60_000 });
}

// The site whose collection is shown: the one chosen, else the first.
export function useSites() {
  return useMe().data?.sites ?? [];
}

export function useCards(site?: string) {
  return useQuery({
    queryKey: ['record', 'collection', site],
    queryFn: ({ signal }) => get('/api/collection', { signal, query: { site } }),
    // Verdicts are worked out beside the requests; while one is on its way the question is put again.
    refetchInterval: ({ state }) => (state.data?.cards.some((card) => card.judging) ? 1500 : false),
  });
}

export function useDue(site?: string) {
  return useQuery({
    queryKey: ['record', 'due', site],
    queryFn: async ({ signal }): Promise<readonly Due[]> =>
      (await get('/api/due', { signal, query: { site } })).due,
  });
}

export function useLampLives(site?: string) {
  return useQuery({
    queryKey: ['record', 'lamp-lives', site],
    queryFn: async ({ signal }) => (await get('/api/lamp-lives', { signal, query: { site } })).lamps,
  });
}

type Page<K extends Plural> = { things: readonly ThingOf<K>[]; next: string };

// Page after page; the last one names no next.
async function askAll<K extends Plural>(plural: K, query: With['query'] = {}, signal?: AbortSignal) {
  const all: ThingOf<K>[] = [];
  let after: string | undefined;
  do {
    const asked = { query: { ...query, after }, ...(signal && { signal }) };
    const page = (await get(`/api/${plural}` as '/api/lamps', asked)) as unknown as Page<K>;
    all.push(...page.things);
    after = page.next;
  } while (after);
  return all as readonly ThingOf<K>[];
}

export function useThings<K extends Plural>(plural: K, query: With['query'] = {}, enabled = true) {
  return useQuery({
    queryKey: ['record', plural, query],
    queryFn: ({ signal }) => askAll(plural, query, signal),
    enabled,
  });
}

export function useThing<K extends Plural>(plural: K, id: string, enabled = true) {
  return useQuery({
    queryKey: ['record', plural, 'one', id],
    queryFn: async ({ signal }) =>
      (await get(`/api/${plural}/{id}` as '/api/lamps/{id}', { signal, id })) as unknown as ThingOf<K>,
    enabled,
  });
}

export function useHistory(plural: Plural, id: string, enabled = true) {
  return useQuery({
    queryKey: ['record', plural, 'history', id],
    queryFn: async ({ signal }) =>
      (await get(`/api/${plural}/{id}/history` as '/api/lamps/{id}/history', { signal, id })).versions,
    enabled,
  });
}

// useDoing((task) => post('/api/tasks/{id}/settle', ...)): a deed, after which the record is asked anew.
export function useDoing<Asked, Answered>(
  deed: (asked: Asked) => Promise<Answered>,
): UseMutationResult<Answered, Error, Asked> {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: deed,
    onSettled: () => queries.invalidateQueries({ queryKey: ['record'] }),
  });
}
