// Keeps on this device what the survey needs without a network: enclosures with their last judgement and readings,
// what is due, the meters, who is signed in. It is taken from the answers the screens get anyway.
import type { QueryClient } from '@tanstack/react-query';
import type { Card, Due, Me, Meter } from '../api/schema';
import { kept, type Place } from './database';

// A judgement that is only being worked out anew does not push out the last one of the same document.
export function placeOf(card: Card, before: Place | undefined, kept_at: string): Place {
  const last = before?.card.enclosure.revision === card.enclosure.revision ? before.card.judgement : null;
  return {
    id: card.enclosure.id,
    site: card.enclosure.site ?? '',
    card: card.judgement === null && card.judging ? { ...card, judgement: last } : card,
    kept_at,
  };
}

export async function keepCards(cards: readonly Card[], site: string | undefined): Promise<void> {
  const now = new Date().toISOString();
  await kept.transaction('rw', kept.places, async () => {
    const before = new Map((await kept.places.toArray()).map((place) => [place.id, place]));
    const isThere = new Set(cards.map((card) => card.enclosure.id));
    const gone = [...before.values()].filter(
      (p) => (site === undefined || p.site === site) && !isThere.has(p.id),
    );
    await kept.places.bulkDelete(gone.map((place) => place.id));
    await kept.places.bulkPut(cards.map((card) => placeOf(card, before.get(card.enclosure.id), now)));
  });
}

export async function keepDue(due: readonly Due[], site: string | undefined): Promise<void> {
  await kept.transaction('rw', kept.due, async () => {
    await (site === undefined ? kept.due.clear() : kept.due.where('site').equals(site).delete());
    await kept.due.bulkPut(due.filter(({ kind }) => kind === 'survey'));
  });
}

export async function keepMeters(meters: readonly Meter[]): Promise<void> {
  await kept.transaction('rw', kept.meters, async () => {
    await kept.meters.clear();
    await kept.meters.bulkPut([...meters]);
  });
}

async function keepMe(me: Me): Promise<void> {
  if (me.person) await kept.choices.put({ name: 'person', value: me.person.id });
}

async function keep(key: readonly unknown[], data: unknown): Promise<void> {
  const [whose, what, which] = key;
  if (whose === 'me') return keepMe(data as Me);
  if (whose !== 'record') return;
  if (what === 'collection')
    return keepCards((data as { cards: readonly Card[] }).cards, which as string | undefined);
  if (what === 'due') return keepDue(data as readonly Due[], which as string | undefined);
  if (what === 'meters' && typeof which === 'object' && Object.keys(which ?? {}).length === 0)
    return keepMeters(data as readonly Meter[]);
}

// Returns how to end it.
export function keepWhatComes(queries: QueryClient): () => void {
  return queries.getQueryCache().subscribe((event) => {
    if (event.type !== 'updated' || event.action.type !== 'success') return;
    void keep(event.query.queryKey as readonly unknown[], event.query.state.data).catch((error: unknown) =>
      console.warn('Not kept for a visit without network:', error),
    );
  });
}
