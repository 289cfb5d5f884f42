import { describe, expect, it } from 'vitest';
import { startAt, step, type Deed, type Steps } from './steps';

const add = (n: number, stroke?: string): Deed<number> => ({
  deed: 'change',
  to: (now) => now + n,
  words: `add ${n}`,
  ...(stroke ? { stroke } : {}),
});
const after = (...deeds: Deed<number>[]): Steps<number> => deeds.reduce(step, startAt(0));

describe('steps', () => {
  it('are taken back one by one and done again in order', () => {
    const done = after(add(1), add(10), add(100));
    const back = [1, 2, 3].reduce((steps) => step(steps, { deed: 'undo' }), done);
    expect(back.now).toBe(0);
    expect(back.future.map(({ words }) => words)).toEqual(['add 1', 'add 10', 'add 100']);
    const again = [1, 2].reduce((steps) => step(steps, { deed: 'redo' }), back);
    expect(again.now).toBe(11);
  });

  it('of one stroke are one step', () => {
    const dragged = after(add(1), add(1, 'drag'), add(1, 'drag'), add(1, 'drag'));
    expect(dragged.now).toBe(4);
    expect(step(dragged, { deed: 'undo' }).now).toBe(1);
  });

  it('of two strokes at the same thing are two, when the hand let go between', () => {
    const twice = after(add(1, 'drag'), { deed: 'end-stroke' }, add(1, 'drag'));
    expect(step(twice, { deed: 'undo' }).now).toBe(1);
  });

  it('forget what was taken back as soon as something else is done', () => {
    const other = after(add(1), { deed: 'undo' }, add(5));
    expect(step(other, { deed: 'redo' }).now).toBe(5);
  });

  it('that change nothing are none; before the first there is nothing', () => {
    const none = after(add(1), { deed: 'change', to: (now) => now, words: 'nothing' });
    expect(none.past).toHaveLength(1);
    expect(step(after(), { deed: 'undo' }).now).toBe(0);
  });
});
