import { act, renderHook, waitFor } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import { useJob } from './useJob';

describe('a job', () => {
  it('answers the newest question, and ends the one before', async () => {
    const ended: string[] = [];
    const { result } = renderHook(() =>
      useJob<string, string>(
        (asked, signal) =>
          new Promise((answer) => {
            signal.addEventListener('abort', () => ended.push(asked));
            setTimeout(() => answer(`${asked}!`), asked === 'slow' ? 60 : 5);
          }),
      ),
    );
    act(() => result.current.ask('slow'));
    act(() => result.current.ask('quick'));
    await waitFor(() => expect(result.current.answer).toBe('quick!'));
    await new Promise((later) => setTimeout(later, 80));
    expect(result.current.answer).toBe('quick!');
    expect(ended).toEqual(['slow']);
  });

  it('can be ended without an error, and says why it failed', async () => {
    const { result } = renderHook(() =>
      useJob<number, number>((n) => (n < 0 ? Promise.reject(new Error('negative')) : new Promise(() => n))),
    );
    act(() => result.current.ask(1));
    expect(result.current.isBusy).toBe(true);
    act(() => result.current.cancel());
    expect(result.current).toMatchObject({ isBusy: false, error: null, asked: null });
    act(() => result.current.ask(-1));
    await waitFor(() => expect(result.current.error?.message).toBe('negative'));
  });
});
