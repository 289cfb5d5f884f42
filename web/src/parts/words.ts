import type { State, Verdict } from '../api/schema';

export const stateWords: Record<State, string> = {
  below: 'below the band',
  low: 'low end',
  in: 'in the band',
  high: 'high end',
  above: 'above the band',
};

export const verdictParts: readonly { part: Exclude<keyof Verdict, 'overall'>; title: string }[] = [
  { part: 'basking', title: 'Basking' },
  { part: 'retreat', title: 'Retreat' },
  { part: 'ceiling', title: 'Ceiling' },
  { part: 'gradient', title: 'Gradient' },
  { part: 'together', title: 'Light and warmth together' },
];

export function holdsWords(holds: boolean | null): string {
  return holds === null ? 'cannot be told' : holds ? 'holds' : 'does not hold';
}
