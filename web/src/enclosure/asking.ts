// What this screen asks the engine while a document changes faster than answers come. The newest question is put as
// soon as the last one is answered; those in between are never asked. Each view tells the server its name, so that a
// question nobody waits for any more is ended there too.
import { useDebouncedValue } from '@mantine/hooks';
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useEffect, useId, useState } from 'react';
import { newKey, post, postField, type Field } from '../api/client';
import type { Enclosure, Facing, Grid, Quantity, Vec3, WhichReadings } from '../api/schema';
import { isSuperseded } from './edit/problems';
import { rest_ms } from './model/drawing';
import { Newest } from './newest';
import type { Grain } from './slice';
import type { Heard } from './store';

function useNewest<T>(wanted: T, isFetching: boolean): T {
  const [asked, setAsked] = useState(wanted);
  useEffect(() => {
    if (!isFetching) setAsked(() => wanted);
  }, [wanted, isFetching]);
  return asked;
}

const tab = newKey(); // two windows of one person are two views
export const useView = (name: string): string => `${name}${useId()}-${tab}`.replace(/[^\w-]/g, '');

// Answers of a moment, worth keeping only while somebody looks back and forth. A question that a later one ended is
// put again: whoever still asks wants to know.
const preview = {
  placeholderData: keepPreviousData,
  gcTime: 20_000,
  staleTime: Infinity,
  retry: (failures: number, error: Error) => isSuperseded(error) && failures < 3,
  retryDelay: 200,
} as const;

// "recorded" where the record has readings of this enclosure: then the light is fitted to them.
export type Readings = Extract<WhichReadings, 'recorded'> | undefined;
const withReadings = (readings: Readings) => (readings ? { readings } : {});

// While something is dragged only the model and its field follow the hand; verdict, warmth and all that stands beside the
// model are asked for and drawn when it rests, which leaves the machine to the field.
export const useRested = <T>(value: T): T => useDebouncedValue(value, rest_ms)[0];

// round: counts up when readings came in, so that the same question is put again.
export function useJudgement(enclosure: Enclosure, readings?: Readings, round = 0) {
  const [isBusy, setBusy] = useState(false);
  const asked = useNewest(enclosure, isBusy);
  const view = useView('check');
  const query = useQuery({
    queryKey: ['check', asked, readings, round],
    queryFn: ({ signal }) =>
      post('/api/check', { enclosure: asked, ...withReadings(readings) }, { signal, view }),
    ...preview,
  });
  useEffect(() => setBusy(query.isFetching), [query.isFetching]);
  return { ...query, isBehind: query.isFetching || asked !== enclosure };
}

export type Slice = { enclosure: Enclosure; grid: Grid; quantity: Quantity; facing: Facing };
export type NewestField = Newest<Slice, Field>;

// The field of what is shown: asked for in the task of the very event that changes it, before anything is drawn; with fewer
// points at first, with all of them when the hand rests.
export function useField(
  shown: Heard<Enclosure>,
  sliceOf: (enclosure: Enclosure, grain: Grain) => Slice,
  name = 'field',
  enabled = true,
): NewestField {
  const view = useView(name);
  const [field] = useState<NewestField>(
    () => new Newest((asked, signal) => postField(asked, { signal, view }), isSuperseded),
  );
  useEffect(() => {
    if (!enabled) return;
    let last = shown.now();
    let resting: ReturnType<typeof setTimeout> | undefined;
    const ask = (grain: Grain) => field.want(sliceOf(last, grain), grain === 'fine');
    const follow = () => {
      if (shown.now() === last) return;
      last = shown.now();
      ask('coarse');
      clearTimeout(resting);
      resting = setTimeout(() => ask('fine'), rest_ms);
    };
    ask('fine');
    const leave = shown.hear(follow);
    return () => {
      clearTimeout(resting);
      leave();
    };
  }, [field, shown, sliceOf, enabled]);
  useEffect(() => field.stop, [field]);
  return field;
}

export function useArrivals(enclosure: Enclosure, points: readonly Vec3[], facing: Facing, name = 'at') {
  const view = useView(name);
  return useQuery({
    queryKey: ['at', enclosure, points, facing],
    queryFn: ({ signal }) => post('/api/at', { enclosure, points_cm: points, facing }, { signal, view }),
    enabled: points.length > 0,
    ...preview,
  });
}

export function useWarmth(enclosure: Enclosure, readings: Readings, round: number) {
  const [isBusy, setBusy] = useState(false);
  const asked = useNewest(enclosure, isBusy);
  const view = useView('warmth');
  const query = useQuery({
    queryKey: ['warmth', asked, readings, round],
    queryFn: ({ signal }) =>
      post('/api/warmth', { enclosure: asked, ...withReadings(readings) }, { signal, view }),
    ...preview,
  });
  useEffect(() => setBusy(query.isFetching), [query.isFetching]);
  return { ...query, isBehind: query.isFetching || asked !== enclosure };
}

// quick: single changes only, in a fraction of the time.
export const askFixes = (
  enclosure: Enclosure,
  quick: boolean,
  readings: Readings,
  signal: AbortSignal,
  view: string,
) => post('/api/fix', { enclosure, ...(quick && { quick }), ...withReadings(readings) }, { signal, view });

export const askNext = (enclosure: Enclosure, readings: Readings, signal: AbortSignal, view: string) =>
  post('/api/next', { enclosure, ...withReadings(readings) }, { signal, view });
