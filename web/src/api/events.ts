// Follows what others write, so that every screen shows the record as it is. An enclosure that is being edited is
// left alone: its screen says that there is a newer one (it listens to the same event).
import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';

export type Change = {
  seq: number;
  kind: string;
  id: string;
  site: string | null;
  revision: number;
  deed: string;
};

const gather_ms = 300; // a survey comes as a burst of changes

export function useEvents(enabled: boolean) {
  const queries = useQueryClient();
  useEffect(() => {
    if (!enabled) return;
    const source = new EventSource('/api/events');
    let waiting: ReturnType<typeof setTimeout> | undefined;
    source.addEventListener('change', (event) => {
      const change = JSON.parse((event as MessageEvent<string>).data) as Change;
      window.dispatchEvent(new CustomEvent('dapple-change', { detail: change }));
      waiting ??= setTimeout(() => {
        waiting = undefined;
        void queries.invalidateQueries({
          queryKey: ['record'],
          predicate: ({ queryKey }) => !(queryKey[1] === 'enclosures' && queryKey[2] === 'one'),
        });
      }, gather_ms);
    });
    return () => {
      clearTimeout(waiting);
      source.close();
    };
  }, [enabled, queries]);
}
