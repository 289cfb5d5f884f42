// The server as sending.ts sees it.
import { get, post } from '../api/client';
import { askMe } from '../api/record';
import type { Json, OwnWrite } from './database';
import type { Server } from './sending';

const plurals: Readonly<Record<string, string>> = {
  survey: 'surveys',
  reading: 'readings',
  note: 'notes',
  file: 'files',
};

async function isThere({ kind, id, fields = {} }: OwnWrite): Promise<boolean> {
  const plural = plurals[kind];
  if (plural === undefined) return false;
  try {
    const thing = (await get(`/api/${plural}/{id}` as '/api/readings/{id}', { id })) as unknown as Record<
      string,
      Json
    >;
    return Object.entries(fields).every(([name, value]) => thing[name] === value);
  } catch {
    return false;
  }
}

export const ownServer: Server = {
  me: () => askMe(),
  write: async (writes) => (await post('/api/writes', { writes })).answers,
  isThere,
};
