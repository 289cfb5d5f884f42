// A number as it is typed, key by key.
export const keypad = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '.', '0', 'erase'] as const;
export type Key = (typeof keypad)[number];

const longest = 8;

export function press(draft: string, key: Key): string {
  if (key === 'erase') return draft.slice(0, -1);
  if (draft.length >= longest) return draft;
  if (key === '.') return draft.includes('.') ? draft : `${draft === '' ? '0' : draft}.`;
  return draft === '0' ? key : draft + key;
}

// Of a keyboard's key, in any of its spellings.
export function keyOf(name: string): Key | null {
  if (name === ',' || name === 'Decimal') return '.';
  if (name === 'Backspace' || name === 'Delete') return 'erase';
  return keypad.find((key) => key === name) ?? null;
}

// What was pasted or spoken, if it is a number.
export function draftOf(text: string): string | null {
  const draft = text.trim().replace(',', '.');
  return /^\d*\.?\d*$/.test(draft) && draft.length <= longest ? draft : null;
}

export function valueOf(draft: string): number | null {
  return /\d/.test(draft) ? Number(draft) : null;
}
