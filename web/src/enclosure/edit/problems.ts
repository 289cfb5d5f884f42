// A refusal names places by JSON pointers; here each finds the part of the screen that it is about.
import { Refusal } from '../../api/client';
import type { Problem } from '../../api/schema';

export type Place = { list: string; index: number | null; field: string };

// "/enclosure/lamps/0/output/uvi" -> the first lamp, "output/uvi". What was asked about may be the document itself, or
// have it as a field.
export function placeOf(pointer: string): Place {
  const parts = pointer
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'));
  const [first] = parts;
  const own = first === 'enclosure' || first === 'document' || first === 'fix' ? parts.slice(1) : parts;
  const [list = '', second, ...rest] = own;
  const index = second !== undefined && /^\d+$/.test(second) ? Number(second) : null;
  const field = index === null ? [second, ...rest].filter((part) => part !== undefined) : rest;
  return { list, index, field: field.join('/') };
}

export const problemsOf = (error: Error | null): readonly Problem[] =>
  error instanceof Refusal ? (error.details?.problems ?? []) : [];

export function problemsAt(problems: readonly Problem[], list: string, index: number | null): Problem[] {
  return problems.filter(({ place }) => {
    const at = placeOf(place);
    return at.list === list && (index === null || at.index === index);
  });
}

// A later question of the same view ended this one: nothing went wrong.
export const isSuperseded = (error: Error | null): boolean =>
  error instanceof Refusal && error.status === 409;
