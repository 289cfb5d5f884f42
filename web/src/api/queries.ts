// What the screens ask the engine, each question once. What they ask the record is in record.ts.
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { get, post, postField } from './client';
import type { Enclosure, Facing, Grid, Quantity, Vec3 } from './schema';

export function useMaterials() {
  return useQuery({
    queryKey: ['materials'],
    queryFn: ({ signal }) => get('/api/materials', { signal }),
    staleTime: Infinity,
  });
}

export function useSpeciesList(words: string) {
  return useQuery({
    queryKey: ['species', 'list', words],
    queryFn: ({ signal }) => get('/api/species', { signal, query: words === '' ? {} : { words } }),
    placeholderData: keepPreviousData,
    staleTime: Infinity,
  });
}

export function useSpecies(id: string) {
  return useQuery({
    queryKey: ['species', 'sheet', id],
    queryFn: ({ signal }) => get('/api/species/{id}', { signal, id }),
    staleTime: Infinity,
  });
}

// Previews follow a document that changes faster than answers come. The newest question is put as soon as the last
// one is answered; those in between are never asked. `useNewest` gives the question to ask now.
function useNewest<T>(wanted: T, isFetching: boolean): T {
  const [asked, setAsked] = useState(wanted);
  useEffect(() => {
    if (!isFetching) setAsked(() => wanted);
  }, [wanted, isFetching]);
  return asked;
}

// Answers of a moment, worth keeping only while somebody looks back and forth.
const preview = {
  placeholderData: keepPreviousData,
  gcTime: 20_000,
  staleTime: Infinity,
  retry: false,
} as const;

export function useJudgement(enclosure: Enclosure) {
  const [isBusy, setBusy] = useState(false);
  const asked = useNewest(enclosure, isBusy);
  const query = useQuery({
    queryKey: ['check', asked],
    queryFn: ({ signal }) => post('/api/check', { enclosure: asked }, { signal }),
    ...preview,
  });
  useEffect(() => setBusy(query.isFetching), [query.isFetching]);
  return { ...query, isBehind: query.isFetching || asked !== enclosure };
}

export type Slice = { enclosure: Enclosure; grid: Grid; quantity: Quantity; facing: Facing };

export function useField(slice: Slice) {
  const [isBusy, setBusy] = useState(false);
  const asked = useNewest(slice, isBusy);
  const query = useQuery({
    queryKey: ['field', asked],
    queryFn: ({ signal }) => postField(asked, { signal }),
    ...preview,
  });
  useEffect(() => setBusy(query.isFetching), [query.isFetching]);
  return query;
}

export function useArrivals(enclosure: Enclosure, points: readonly Vec3[], facing: Facing) {
  return useQuery({
    queryKey: ['at', enclosure, points, facing],
    queryFn: ({ signal }) => post('/api/at', { enclosure, points_cm: points, facing }, { signal }),
    enabled: points.length > 0,
    ...preview,
  });
}

export function useFixes(enclosure: Enclosure, enabled: boolean) {
  return useQuery({
    queryKey: ['fix', enclosure],
    queryFn: ({ signal }) => post('/api/fix', { enclosure }, { signal }),
    enabled,
    staleTime: Infinity,
    retry: false,
  });
}

// Triangles of the furniture that has a file; asked only where there is any.
export function useMeshes(enclosure: Enclosure) {
  const hasMeshes = enclosure.furniture?.some((piece) => piece.shape === 'mesh') ?? false;
  return useQuery({
    queryKey: ['meshes', enclosure.furniture],
    queryFn: ({ signal }) => post('/api/meshes', { enclosure }, { signal }),
    enabled: hasMeshes,
    ...preview,
  });
}
