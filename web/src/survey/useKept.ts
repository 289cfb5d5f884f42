// The places as this device keeps them, freshened from the server whenever it answers.
import { useLiveQuery } from 'dexie-react-hooks';
import { useCards, useDue, useThings } from '../api/record';
import type { Due, Meter } from '../api/schema';
import { kept, type Place } from '../offline/database';

export type Freshened = { isComing: boolean; isAway: boolean };

// keeping.ts puts what comes into the device's own store; the screens read it from there. A question that is put off
// until there is a network counts as unanswered.
export function useFreshened(): Freshened {
  const all = [useCards(), useDue(), useThings('meters')];
  return {
    isComing: all.some((query) => query.isPending && query.fetchStatus === 'fetching'),
    isAway: all.some((query) => query.error !== null || query.fetchStatus === 'paused'),
  };
}

export type DuePlace = Place & { due: Due | null };

const overdue = (place: DuePlace): number => place.due?.days_over ?? -Infinity;
const nameOf = (place: Place): string => place.card.enclosure.document.name ?? place.id;
const next = (place: Place): string => place.card.next_survey ?? '';

// Due ones first, the longest overdue at the top; then by their next day.
export const byUrgency = (a: DuePlace, b: DuePlace): number =>
  (overdue(a) === overdue(b) ? 0 : overdue(b) - overdue(a)) ||
  next(a).localeCompare(next(b)) ||
  nameOf(a).localeCompare(nameOf(b));

export function usePlaces(): DuePlace[] | undefined {
  return useLiveQuery(async () => {
    const due = new Map((await kept.due.toArray()).map((d) => [d.thing, d]));
    const places = await kept.places.toArray();
    return places.map((place) => ({ ...place, due: due.get(place.id) ?? null })).sort(byUrgency);
  });
}

// undefined: not looked up yet; null: not kept here.
export function usePlace(id: string): Place | null | undefined {
  return useLiveQuery(async () => (await kept.places.get(id)) ?? null, [id]);
}

export function useMeters(quantity: string): Meter[] {
  return (
    useLiveQuery(
      () => kept.meters.filter((meter) => meter.measures === quantity && meter.retired_at === null).toArray(),
      [quantity],
    ) ?? []
  );
}

// The meter chosen for a quantity, remembered on this device.
export function useMeterChoice(quantity: string): readonly [string | null, (id: string | null) => void] {
  const name = `meter:${quantity}`;
  const chosen = useLiveQuery(async () => (await kept.choices.get(name))?.value ?? null, [name]);
  const choose = (id: string | null) =>
    void (id === null ? kept.choices.delete(name) : kept.choices.put({ name, value: id }));
  return [chosen ?? null, choose];
}

export { nameOf };
