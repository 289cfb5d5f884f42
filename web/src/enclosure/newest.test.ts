import { describe, expect, it, vi } from 'vitest';
import { Newest } from './newest';

type Put = { question: string; signal: AbortSignal; answer: (a: string) => void; refuse: (e: Error) => void };

function asker() {
  const puts: Put[] = [];
  const newest = new Newest<string, string>(
    (question, signal) =>
      new Promise((answer, refuse) => void puts.push({ question, signal, answer, refuse })),
    (error) => error.message === 'lost',
  );
  const questions = () => puts.map(({ question }) => question);
  const last = () => {
    const put = puts.at(-1);
    if (!put) throw new Error('nothing was asked');
    return put;
  };
  return { newest, questions, last };
}
const turn = () => new Promise((resolve) => setTimeout(resolve));

describe('the newest question', () => {
  it('is put at once, in the task that wants it', () => {
    const { newest, questions } = asker();
    newest.want('a');
    expect(questions()).toEqual(['a']);
  });

  it('waits for the answer of the last one; those in between are never asked', async () => {
    const { newest, questions, last } = asker();
    newest.want('a');
    newest.want('b');
    newest.want('c');
    expect(questions()).toEqual(['a']);
    last().answer('A');
    await turn();
    expect(questions()).toEqual(['a', 'c']);
    expect(newest.answered.now()).toEqual({ answer: 'A', error: null });
    last().answer('C');
    await turn();
    newest.want('c');
    expect(questions()).toEqual(['a', 'c']);
    expect(newest.answered.now().answer).toBe('C');
  });

  it('refused, it leaves the last answer standing and can be put again', async () => {
    const { newest, questions, last } = asker();
    newest.want('a');
    last().answer('A');
    await turn();
    newest.want('b');
    last().refuse(new Error('refused'));
    await turn();
    expect(newest.answered.now()).toEqual({ answer: 'A', error: new Error('refused') });
    newest.again();
    last().answer('B');
    await turn();
    expect(newest.answered.now()).toEqual({ answer: 'B', error: null });
    expect(questions()).toEqual(['a', 'b', 'b']);
  });

  it('ends one that may be left', async () => {
    const { newest, questions, last } = asker();
    newest.want('fine', true);
    const { signal } = last();
    newest.want('next');
    expect(signal.aborted).toBe(true);
    expect(questions()).toEqual(['fine', 'next']);
    last().answer('NEXT');
    await turn();
    expect(newest.answered.now().answer).toBe('NEXT');
  });

  it('lost on the way, it is put again', async () => {
    const { newest, questions, last } = asker();
    newest.want('a');
    last().refuse(new Error('lost'));
    await vi.waitFor(() => expect(questions()).toEqual(['a', 'a']));
    expect(newest.answered.now().error).toBeNull();
  });

  it('is ended when nobody wants to know any more', async () => {
    const { newest, last } = asker();
    newest.want('a');
    newest.stop();
    expect(last().signal.aborted).toBe(true);
    last().answer('A');
    await turn();
    expect(newest.answered.now().answer).toBeUndefined();
  });
});
