// Whether the server can be reached: told by how the questions fare that are asked anyway. While it cannot, "who am I"
// is asked now and then; once it answers, everything is asked anew.
import { useQueryClient, type QueryCacheNotifyEvent } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { Refusal } from '../api/client';
import { askMe } from '../api/record';

const again_ms = 4000;

// A gateway that answers in the server's stead sends no problem details.
export const isOutOfReach = (error: unknown): boolean =>
  error instanceof Refusal ? error.status >= 500 && error.details === null : error instanceof TypeError;

const isSignedOut = (error: unknown): boolean => error instanceof Refusal && error.status === 401;

function lessonOf(event: QueryCacheNotifyEvent): 'reached' | 'out of reach' | 'signed out' | null {
  if (event.type !== 'updated') return null;
  const { action } = event;
  if (action.type === 'success') return action.manual ? null : 'reached';
  if (action.type !== 'failed' && action.type !== 'error') return null;
  if (isOutOfReach(action.error)) return 'out of reach';
  return isSignedOut(action.error) ? 'signed out' : null;
}

export function useReach(): boolean {
  const queries = useQueryClient();
  const [isReached, setReached] = useState(true);
  useEffect(
    () =>
      queries.getQueryCache().subscribe((event) => {
        const lesson = lessonOf(event);
        if (lesson === 'signed out') void queries.invalidateQueries({ queryKey: ['me'] });
        else if (lesson !== null) setReached(lesson === 'reached');
      }),
    [queries],
  );
  useEffect(() => {
    if (isReached) return;
    const timer = setInterval(() => {
      void askMe()
        .then((me) => {
          queries.setQueryData(['me'], me);
          setReached(true);
          return queries.invalidateQueries();
        })
        .catch(() => undefined); // still out of reach, and the page says so
    }, again_ms);
    return () => clearInterval(timer);
  }, [isReached, queries]);
  return isReached;
}
