// The application's one sending loop, and how a screen follows it.
import { useLiveQuery } from 'dexie-react-hooks';
import { useSyncExternalStore } from 'react';
import { kept } from './database';
import { SendingLoop } from './sendingLoop';
import { ownServer } from './server';

export const sendingHere = new SendingLoop(ownServer);

export const useSending = () => useSyncExternalStore(sendingHere.subscribe, sendingHere.current);

export type Unsent = { waiting: number; refused: number };

export function useUnsent(): Unsent {
  const counts = useLiveQuery(async () => ({
    waiting: await kept.outbox.where('state').equals('waiting').count(),
    refused: await kept.outbox.where('state').equals('refused').count(),
  }));
  return counts ?? { waiting: 0, refused: 0 };
}
