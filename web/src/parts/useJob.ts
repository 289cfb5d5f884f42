// A question that takes seconds: asked when somebody wants to know, its waiting shown, ended when they no longer do.
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';

export type Job<Asked, Answer> = {
  asked: Asked | null; // what the answer, or the waiting, is about
  answer: Answer | null;
  error: Error | null;
  isBusy: boolean;
  ask: (asked: Asked) => void;
  cancel: () => void;
};

type State<Asked, Answer> = Pick<Job<Asked, Answer>, 'asked' | 'answer' | 'error' | 'isBusy'>;

export function useJob<Asked, Answer>(
  put: (asked: Asked, signal: AbortSignal) => Promise<Answer>,
): Job<Asked, Answer> {
  const idle: State<Asked, Answer> = { asked: null, answer: null, error: null, isBusy: false };
  const [state, setState] = useState(idle);
  const running = useRef<AbortController | null>(null);
  const putNow = useRef(put);
  useEffect(() => {
    putNow.current = put;
  });

  const ask = useCallback((asked: Asked) => {
    running.current?.abort();
    const mine = new AbortController();
    running.current = mine;
    setState({ asked, answer: null, error: null, isBusy: true });
    putNow.current(asked, mine.signal).then(
      (answer) => {
        if (!mine.signal.aborted) setState({ asked, answer, error: null, isBusy: false });
      },
      (error: unknown) => {
        if (mine.signal.aborted) return;
        const why = error instanceof Error ? error : new Error(String(error));
        setState({ asked, answer: null, error: why, isBusy: false });
      },
    );
  }, []);
  const cancel = useCallback(() => {
    running.current?.abort();
    setState({ asked: null, answer: null, error: null, isBusy: false });
  }, []);
  useEffect(() => () => running.current?.abort(), []);
  return useMemo(() => ({ ...state, ask, cancel }), [state, ask, cancel]);
}
