// What changes faster than a screen is drawn - a document under the hand, the answers that follow it - stands outside of
// React. Whoever hears of a change hears of it at once, in the task of the event that made it.
import { useRef, useSyncExternalStore } from 'react';

export type Heard<T> = { readonly now: () => T; readonly hear: (hearer: () => void) => () => void };

export class Store<T> implements Heard<T> {
  private readonly hearers = new Set<() => void>();
  constructor(private state: T) {}
  readonly now = (): T => this.state;
  readonly set = (next: T): void => {
    if (Object.is(next, this.state)) return;
    this.state = next;
    for (const hearer of [...this.hearers]) hearer();
  };
  readonly hear = (hearer: () => void): (() => void) => {
    this.hearers.add(hearer);
    return () => void this.hearers.delete(hearer);
  };
}

// A part of what is heard of; it has to be the same object as long as it says the same.
export const partOf = <T, P>({ now, hear }: Heard<T>, pick: (whole: T) => P): Heard<P> => ({
  now: () => pick(now()),
  hear,
});

export const still = <T>(value: T): Heard<T> => ({ now: () => value, hear: () => () => undefined });

export const useNow = <T>({ now, hear }: Heard<T>): T => useSyncExternalStore(hear, now);

export const usePart = <T, P>({ now, hear }: Heard<T>, pick: (whole: T) => P): P =>
  useSyncExternalStore(hear, () => pick(now()));

// The same object as long as its fields are the same.
export function useSame<T extends object>(value: T): T {
  const last = useRef(value);
  const names = Object.keys(value) as (keyof T)[];
  if (!names.every((name) => Object.is(value[name], last.current[name]))) last.current = value;
  return last.current;
}
