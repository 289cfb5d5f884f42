// Lines of the trail as sentences: who did what to which thing.
import type { Change } from '../api/schema';
import { kindName } from './previewWords';

const deeds: Readonly<Record<string, string>> = {
  create: 'added',
  change: 'changed',
  retire: 'retired',
  reinstate: 'brought back into use',
  restore: 'restored an earlier version of',
};

// A survey or an import writes many lines in one go; they are read as one.
export type Gathered = { newest: Change; count: number };
const apart_ms = 10 * 60_000;

export function gathered(changes: readonly Change[]): readonly Gathered[] {
  const result: Gathered[] = [];
  let last: Change | undefined;
  for (const change of changes) {
    const open = result.at(-1);
    const goesOn =
      last !== undefined &&
      (['by', 'deed', 'kind', 'why'] as const).every((part) => last?.[part] === change[part]) &&
      Math.abs(Date.parse(last.at) - Date.parse(change.at)) < apart_ms;
    if (open && goesOn) open.count += 1;
    else result.push({ newest: change, count: 1 });
    last = change;
  }
  return result;
}

export function deedWords({ deed, kind }: Pick<Change, 'deed' | 'kind'>, count = 1): string {
  const name = kindName(kind, count);
  const amount = count > 1 ? count.toLocaleString('en') : /^[aeiou]/.test(name) ? 'an' : 'a';
  return `${deeds[deed] ?? deed} ${amount} ${name}`;
}

// Where a thing can be looked at; many have no screen of their own.
export function addressOf({ kind, id }: Pick<Change, 'kind' | 'id'>): string | null {
  const place = encodeURIComponent(id);
  switch (kind) {
    case 'enclosure':
      return `/collection/${place}`;
    case 'lamp':
      return `/lamps/${place}`;
    case 'meter':
    case 'calibration':
      return '/settings#meters';
    case 'task':
      return '/today';
    default:
      return null;
  }
}
