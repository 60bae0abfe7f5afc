/** What came back for a batch of actions. */
export interface BatchAnswer<Seen> {
  readonly next: number;
  readonly seen: readonly Seen[];
}

/** How a batch could fail: `away` is worth trying again by itself, `refused` is not. */
export type SendResult<Seen> =
  | { readonly how: 'done'; readonly answer: BatchAnswer<Seen> }
  | { readonly how: 'away' }
  | { readonly how: 'refused'; readonly message: string };

export interface QueueParts<Action, Seen> {
  send(from: number, actions: readonly Action[]): Promise<SendResult<Seen>>;
  /** Keeps what is not yet saved where a reload finds it; null when there is nothing. */
  keep(unsaved: { from: number; actions: readonly Action[] } | null): void;
  /** Waits before trying again. */
  wait(milliseconds: number): Promise<void>;
  /** Tells the person whether their work is saved. */
  tell(state: 'saved' | 'saving' | 'away' | 'refused', message?: string): void;
}

interface Waiting<Action, Seen> {
  readonly action: Action;
  readonly resolve: (seen: Seen) => void;
  readonly reject: (reason: Error) => void;
}

/** Waits between tries, in milliseconds; the last is kept up. */
const PAUSES = [500, 1000, 2000, 4000, 8000];

/**
 * Sends actions in order and each once: a batch says where in the log it belongs, so that one sent again after a lost answer is
 * not done twice. Nothing is forgotten while the connection is away.
 */
export class ActionQueue<Action, Seen> {
  readonly #parts: QueueParts<Action, Seen>;
  #next: number;
  #waiting: Waiting<Action, Seen>[] = [];
  #busy = false;
  #refused: string | null = null;

  constructor(next: number, parts: QueueParts<Action, Seen>) {
    this.#next = next;
    this.#parts = parts;
  }

  /** Nothing waits to be saved. */
  get idle(): boolean {
    return !this.#busy && this.#waiting.length === 0;
  }

  /** Does an action; resolves with what is perceived of it once it is on the server's disk, rejects when the server refuses it. */
  do(action: Action): Promise<Seen> {
    if (this.#refused !== null) return Promise.reject(new Error(this.#refused));
    return new Promise((resolve, reject) => {
      this.#waiting.push({ action, resolve, reject });
      this.#keep();
      void this.#run();
    });
  }

  async #run(): Promise<void> {
    if (this.#busy) return;
    this.#busy = true;
    let tries = 0;
    while (this.#waiting.length > 0) {
      const batch = this.#waiting.slice(0, 50);
      this.#parts.tell('saving');
      const result = await this.#parts.send(
        this.#next,
        batch.map(({ action }) => action),
      );
      if (result.how === 'done') {
        tries = 0;
        this.#next += batch.length;
        this.#waiting = this.#waiting.slice(batch.length);
        this.#keep();
        batch.forEach(({ resolve }, index) => {
          const seen = result.answer.seen[index];
          if (seen !== undefined) resolve(seen);
        });
      } else if (result.how === 'refused') {
        this.#refuse(result.message);
      } else {
        this.#parts.tell('away');
        await this.#parts.wait(PAUSES[Math.min(tries, PAUSES.length - 1)] ?? 8000);
        tries += 1;
      }
    }
    this.#busy = false;
    if (this.#refused === null) this.#parts.tell('saved');
  }

  #refuse(message: string): void {
    this.#refused = message;
    const waiting = this.#waiting;
    this.#waiting = [];
    this.#parts.keep(null);
    this.#parts.tell('refused', message);
    for (const { reject } of waiting) reject(new Error(message));
  }

  #keep(): void {
    const actions = this.#waiting.map(({ action }) => action);
    this.#parts.keep(actions.length === 0 ? null : { from: this.#next, actions });
  }
}

/** Of what a page kept before it was reloaded, the actions that the log does not hold yet. */
export function stillUnsaved<Action>(
  kept: { from: number; actions: readonly Action[] } | null,
  next: number,
): readonly Action[] {
  if (kept === null || kept.from > next) return [];
  return kept.actions.slice(next - kept.from);
}
