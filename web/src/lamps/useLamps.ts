// What the lamps' screens ask: the lamps, their forecasts, and the enclosures they stand in.
import { useQuery } from '@tanstack/react-query';
import { get } from '../api/client';
import { useLampLives, useThings } from '../api/record';
import type { KeptEnclosure, KeptLamp, LampForecast } from '../api/schema';

export type Lamps = {
  lamps: readonly KeptLamp[];
  lives: readonly LampForecast[];
  enclosures: readonly KeptEnclosure[];
};

export function useLamps() {
  const lamps = useThings('lamps');
  const lives = useLampLives();
  const enclosures = useThings('enclosures');
  const data: Lamps | null =
    lamps.data && enclosures.data
      ? { lamps: lamps.data, lives: lives.data ?? [], enclosures: enclosures.data }
      : null;
  return {
    data,
    areLivesComing: lives.isPending,
    livesError: lives.error,
    error: lamps.error ?? enclosures.error,
    retry: () => void Promise.all([lamps.refetch(), enclosures.refetch()]),
  };
}

export const enclosureName = (enclosures: readonly KeptEnclosure[], id: string | undefined): string =>
  enclosures.find((one) => one.id === id)?.document.name ?? id ?? '';

export function placeName(
  enclosures: readonly KeptEnclosure[],
  lamp: Pick<KeptLamp, 'enclosure' | 'place'>,
): string {
  const lamps = enclosures.find(({ id }) => id === lamp.enclosure)?.document.lamps ?? [];
  return lamps.find(({ id }) => id === lamp.place)?.name ?? lamp.place ?? '';
}

export function useSpectra() {
  return useQuery({
    queryKey: ['spectra', 'names'],
    queryFn: async ({ signal }) =>
      (await get('/api/spectra', { signal })).spectra.map(({ id, name }) => ({ id, name })),
    staleTime: Infinity,
  });
}
