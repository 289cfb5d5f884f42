// What several screens ask the engine, each question once. What they ask the record is in record.ts.
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { get, post } from './client';
import type { Enclosure } from './schema';

export function useMaterials() {
  return useQuery({
    queryKey: ['materials'],
    queryFn: ({ signal }) => get('/api/materials', { signal }),
    staleTime: Infinity,
  });
}

export function useSpectra() {
  return useQuery({
    queryKey: ['spectra'],
    queryFn: ({ signal }) => get('/api/spectra', { signal }),
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

// Triangles of the furniture that has a file; asked only where there is any.
export function useMeshes(enclosure: Enclosure) {
  const hasMeshes = enclosure.furniture?.some((piece) => piece.shape === 'mesh') ?? false;
  return useQuery({
    queryKey: ['meshes', enclosure.furniture],
    queryFn: ({ signal }) => post('/api/meshes', { enclosure }, { signal }),
    enabled: hasMeshes,
    placeholderData: keepPreviousData,
    staleTime: Infinity,
    retry: false,
  });
}
