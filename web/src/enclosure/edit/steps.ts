// Changes as steps that can be taken back. A stroke is one movement of the hand - a drag, a number being typed - and
// counts as one step however many changes it makes.
export type Step<T> = { state: T; words: string };
export type Steps<T> = {
  past: readonly Step<T>[]; // each with what was done next
  now: T;
  future: readonly Step<T>[]; // the next one first, each with what leads to it
  stroke: string | null;
};

export type Deed<T> =
  | { deed: 'change'; to: (now: T) => T; words: string; stroke?: string }
  | { deed: 'end-stroke' }
  | { deed: 'undo' }
  | { deed: 'redo' }
  | { deed: 'start'; at: T };

const mostSteps = 200;

export const startAt = <T>(now: T): Steps<T> => ({ past: [], now, future: [], stroke: null });

function changed<T>(steps: Steps<T>, { to, words, stroke }: Deed<T> & { deed: 'change' }): Steps<T> {
  const now = to(steps.now);
  if (now === steps.now) return steps;
  if (stroke !== undefined && stroke === steps.stroke) return { ...steps, now, future: [] };
  return {
    past: [...steps.past, { state: steps.now, words }].slice(-mostSteps),
    now,
    future: [],
    stroke: stroke ?? null,
  };
}

export function step<T>(steps: Steps<T>, deed: Deed<T>): Steps<T> {
  switch (deed.deed) {
    case 'change':
      return changed(steps, deed);
    case 'end-stroke':
      return steps.stroke === null ? steps : { ...steps, stroke: null };
    case 'undo': {
      const last = steps.past.at(-1);
      if (!last) return steps;
      const future = [{ state: steps.now, words: last.words }, ...steps.future];
      return { past: steps.past.slice(0, -1), now: last.state, future, stroke: null };
    }
    case 'redo': {
      const [next, ...future] = steps.future;
      if (!next) return steps;
      const past = [...steps.past, { state: steps.now, words: next.words }];
      return { past, now: next.state, future, stroke: null };
    }
    case 'start':
      return startAt(deed.at);
  }
}
