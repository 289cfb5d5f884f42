// What was changed and not saved yet, kept on this device until it is.
import type { ChangedEnclosure } from '../../api/schema';

export type Draft = { seen: number; at: string; fields: ChangedEnclosure };

const addressOf = (id: string) => `dapple-draft-enclosure-${id}`;

function isDraft(value: unknown): value is Draft {
  const draft = value as Partial<Draft> | null;
  return (
    typeof draft === 'object' &&
    draft !== null &&
    typeof draft.seen === 'number' &&
    typeof draft.at === 'string' &&
    draft.fields?.document.format === 'dapple/enclosure@1'
  );
}

// A draft nobody can read, of an older program or damaged, is as good as none.
export function draftOf(id: string, store: Storage = localStorage): Draft | null {
  try {
    const value: unknown = JSON.parse(store.getItem(addressOf(id)) ?? 'null');
    return isDraft(value) ? value : null;
  } catch {
    return null;
  }
}

// False where the device refuses to keep it (storage full or switched off): the person is told.
export function keepDraft(id: string, draft: Draft, store: Storage = localStorage): boolean {
  try {
    store.setItem(addressOf(id), JSON.stringify(draft));
    return true;
  } catch {
    return false;
  }
}

export function dropDraft(id: string, store: Storage = localStorage): void {
  try {
    store.removeItem(addressOf(id));
  } catch {
    // Nothing could have been kept either.
  }
}
