// Asks while the question changes faster than answers come: the newest question is put at once, or as soon as the last
// one is answered; those in between are never asked.
import { same } from './edit/same';
import { Store, type Heard } from './store';

export type Answered<T> = { readonly answer: T | undefined; readonly error: Error | null };

const mostRetries = 3;
const retry_ms = 200;

export class Newest<Question, Answer> {
  private readonly store = new Store<Answered<Answer>>({ answer: undefined, error: null });
  private wanted: Question | undefined;
  private running: AbortController | null = null;
  private mayBeLeft = false;

  // isLost: the server dropped the question without an answer; whoever still asks wants to know.
  constructor(
    private readonly put: (question: Question, signal: AbortSignal) => Promise<Answer>,
    private readonly isLost: (error: Error) => boolean,
  ) {}

  // While an answer is under way the last one stands.
  get answered(): Heard<Answered<Answer>> {
    return this.store;
  }

  // mayBeLeft: nobody waits for it by the hand; whatever is wanted next ends it.
  readonly want = (question: Question, mayBeLeft = false): void => {
    if (same(question, this.wanted)) return;
    this.wanted = question;
    if (this.running && this.mayBeLeft) {
      this.running.abort();
      this.running = null;
    }
    if (this.running) return;
    this.mayBeLeft = mayBeLeft;
    void this.ask(question);
  };

  readonly again = (): void => {
    if (!this.running && this.wanted !== undefined) void this.ask(this.wanted);
  };

  readonly stop = (): void => {
    this.running?.abort();
    this.running = null;
    this.wanted = undefined;
  };

  private async ask(question: Question, retries = 0): Promise<void> {
    const mine = new AbortController();
    this.running = mine;
    let lost = false;
    try {
      const answer = await this.put(question, mine.signal);
      if (!mine.signal.aborted) this.store.set({ answer, error: null });
    } catch (thrown) {
      const error = thrown instanceof Error ? thrown : new Error(String(thrown));
      lost = this.isLost(error) && retries < mostRetries;
      if (lost) await new Promise((resolve) => setTimeout(resolve, retry_ms));
      else if (!mine.signal.aborted) this.store.set({ ...this.store.now(), error });
    }
    if (mine.signal.aborted) return;
    this.running = null;
    this.mayBeLeft = false;
    const { wanted } = this;
    if (wanted !== undefined && wanted !== question) void this.ask(wanted);
    else if (lost) void this.ask(question, retries + 1);
  }
}
