// The answer to the question in the form; while a new one is on its way the last one stays.
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { post } from '../api/client';
import type { Asked } from './question';

export function useSun(question: Asked | undefined) {
  return useQuery({
    queryKey: ['sun', question],
    queryFn: ({ signal }) => post('/api/sun', question ?? {}, { signal, view: 'sun' }),
    enabled: question !== undefined,
    placeholderData: keepPreviousData,
    staleTime: Infinity,
    gcTime: 60_000,
    retry: false,
  });
}
