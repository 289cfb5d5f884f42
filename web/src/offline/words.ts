import type { Unsent } from './sendingHere';

export function unsentWords({ waiting, refused }: Unsent): string | null {
  const parts = [waiting > 0 ? `${waiting} waiting to be sent` : '', refused > 0 ? `${refused} refused` : ''];
  const words = parts.filter((part) => part !== '').join(', ');
  return words === '' ? null : words;
}
