// A line of the trail as a sentence: who did what to which thing.
import type { Change } from '../api/schema';
import { kindName } from './previewWords';

const deeds: Readonly<Record<string, string>> = {
  create: 'added',
  change: 'changed',
  retire: 'retired',
  reinstate: 'brought back into use',
  restore: 'restored an earlier version of',
};

export function deedWords({ deed, kind }: Pick<Change, 'deed' | 'kind'>): string {
  return `${deeds[deed] ?? deed} a${/^[aeiou]/.test(kindName(kind)) ? 'n' : ''} ${kindName(kind)}`;
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
