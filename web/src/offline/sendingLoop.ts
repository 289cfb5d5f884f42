// When to send: as soon as something waits, when the network or the person comes back, and otherwise again and again
// at growing distances. One tab at a time.
import { liveQuery } from 'dexie';
import { kept } from './database';
import { sendWaiting, type Outcome, type Server } from './sending';

export type Sending = { busy: boolean; outcome: Outcome | null; again_at_ms: number | null };

const first_wait_ms = 2_000;
const longest_wait_ms = 30_000;

export class SendingLoop {
  private listeners = new Set<() => void>();
  private state: Sending = { busy: false, outcome: null, again_at_ms: null };
  private timer: ReturnType<typeof setTimeout> | undefined;
  private wait_ms = first_wait_ms;
  private wanted = false;

  constructor(private readonly server: Server) {}

  // Returns how to end it.
  start(): () => void {
    const come = () => this.now();
    const see = () => {
      if (document.visibilityState === 'visible') this.now();
    };
    window.addEventListener('online', come);
    document.addEventListener('visibilitychange', see);
    const watching = liveQuery(() =>
      kept.outbox
        .where('state')
        .equals('waiting')
        .and((row) => !row.tried)
        .count(),
    ).subscribe((count) => {
      if (count > 0) this.now();
    });
    this.now();
    return () => {
      window.removeEventListener('online', come);
      document.removeEventListener('visibilitychange', see);
      watching.unsubscribe();
      clearTimeout(this.timer);
    };
  }

  now = (): void => {
    if (this.state.busy) {
      this.wanted = true;
      return;
    }
    clearTimeout(this.timer);
    this.wanted = false;
    this.show({ busy: true, again_at_ms: null });
    void this.once().then((outcome) => this.rest(outcome));
  };

  private async once(): Promise<Outcome | null> {
    const send = () =>
      sendWaiting(this.server).catch((error: unknown): Outcome => ({
        what: 'unreachable',
        why: `This device cannot read what it keeps: ${String(error)}`,
      }));
    if (!('locks' in navigator)) return send();
    return navigator.locks.request('dapple-sending', { ifAvailable: true }, (lock) => (lock ? send() : null));
  }

  private rest(outcome: Outcome | null): void {
    const isDone = outcome?.what === 'nothing waits';
    this.wait_ms = isDone ? first_wait_ms : Math.min(longest_wait_ms, 2 * this.wait_ms);
    // Up to a quarter earlier, so that many phones do not all come at once when the network is back.
    const wait_ms = this.wait_ms * (1 - Math.random() / 4);
    this.show({ busy: false, outcome, again_at_ms: isDone ? null : Date.now() + wait_ms });
    if (this.wanted && isDone) this.now();
    else if (!isDone) this.timer = setTimeout(this.now, wait_ms);
  }

  private show(change: Partial<Sending>): void {
    this.state = { ...this.state, ...change };
    for (const listener of this.listeners) listener();
  }

  subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  current = (): Sending => this.state;
}
