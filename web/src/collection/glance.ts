// Which enclosures are shown, in which order, and how each stands in few words.
import type { AnimalJudgement, Card } from '../api/schema';
import { daysBetween } from '../parts/dayWords';
import { verdictParts } from '../parts/words';

export const nameOf = (card: Card): string => card.enclosure.document.name ?? card.enclosure.id;

// How an animal stands: what does not hold, or that all does.
export function stateOf({ verdict }: AnimalJudgement): { holds: boolean | null; words: string } {
  const failing = verdictParts
    .filter(({ part }) => verdict[part].holds === false)
    .map(({ title }) => title.toLowerCase());
  if (failing.length > 0) return { holds: false, words: `To put right: ${failing.join(', ')}` };
  if (verdict.overall.holds === false) return { holds: false, words: `To put right: ${verdict.overall.why}` };
  if (verdict.overall.holds === null) return { holds: null, words: 'Cannot be judged' };
  return { holds: true, words: 'Every part holds' };
}

export function needsAttention(card: Card, today: string): boolean {
  return (
    (card.judgement?.animals.some(({ verdict }) => verdict.overall.holds === false) ?? false) ||
    card.problems.length > 0 ||
    card.open_tasks > 0 ||
    (card.next_survey !== null && daysBetween(today, card.next_survey) < 0)
  );
}

// Every word must be found somewhere: in the enclosure's name, its room, its animals.
export function fitsWords(card: Card, words: string): boolean {
  const text = [
    nameOf(card),
    card.enclosure.id,
    card.room_name ?? '',
    ...card.animals.flatMap(({ name = '', species }) => [name, species]),
    ...(card.judgement?.animals.flatMap(({ name, scientific_name, species }) => [
      name,
      scientific_name,
      species,
    ]) ?? []),
  ]
    .join(' ')
    .toLowerCase()
    .replaceAll('_', ' ');
  return words
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
}

export type RoomOfCards = { name: string | null; cards: readonly Card[] };

// By room, in alphabetical order; what stands in no room comes last. Retired enclosures are not shown.
export function byRoom(cards: readonly Card[]): readonly RoomOfCards[] {
  const rooms = new Map<string | null, Card[]>();
  for (const card of cards) {
    if (card.enclosure.retired_at !== null) continue;
    const room = rooms.get(card.room_name);
    if (room) room.push(card);
    else rooms.set(card.room_name, [card]);
  }
  return [...rooms]
    .map(([name, its]) => ({ name, cards: its.sort((a, b) => nameOf(a).localeCompare(nameOf(b))) }))
    .sort((a, b) =>
      a.name === null ? 1 : b.name === null ? -1 : a.name.localeCompare(b.name, 'en', { numeric: true }),
    );
}
