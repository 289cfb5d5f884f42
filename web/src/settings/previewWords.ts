// What an import would do, in sentences.
import type { ImportPreview } from '../api/schema';
import { showDay } from '../parts/dayWords';

// The record's kinds, one and many.
const kindWords: Readonly<Record<string, readonly [string, string]>> = {
  person: ['person', 'people'],
  site: ['site', 'sites'],
  room: ['room', 'rooms'],
  file: ['file', 'files'],
  enclosure: ['enclosure', 'enclosures'],
  animal: ['animal', 'animals'],
  move: ['move', 'moves'],
  lamp: ['lamp', 'lamps'],
  lamp_event: ['event of a lamp', 'events of lamps'],
  meter: ['meter', 'meters'],
  calibration: ['calibration', 'calibrations'],
  survey: ['survey', 'surveys'],
  reading: ['reading', 'readings'],
  task: ['task', 'tasks'],
  note: ['note', 'notes'],
  membership: ['role of a person', 'roles of people'],
};

export const kindName = (kind: string, count = 1): string =>
  (kindWords[kind] ?? [kind, kind])[count === 1 ? 0 : 1];

export function listed(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

export const counted = (counts: Readonly<Record<string, number>>): string =>
  listed(
    Object.entries(counts)
      .filter(([, count]) => count > 0)
      .map(([kind, count]) => `${count} ${kindName(kind, count)}`),
  );

export function sentencesOf(preview: ImportPreview): string[] {
  const added = counted(preview.would_add);
  const there = counted(preview.there);
  const days = preview.first === '' ? '' : `, from ${showDay(preview.first)} to ${showDay(preview.last)}`;
  return [
    ...(preview.faults.length > 0 ? ['Nothing can be brought in until this is put right:'] : []),
    ...(preview.faults.length === 0
      ? [added === '' ? 'There is nothing new in it.' : `It would add ${added}${days}.`]
      : []),
    ...(there === '' ? [] : [`Already in the record, and left as they are: ${there}.`]),
    ...(preview.enclosures.length > 0 ? [`Enclosures: ${listed(preview.enclosures)}.`] : []),
  ];
}
