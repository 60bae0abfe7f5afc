/** Something put down at the bench, on its way to the server. */
export interface BenchEntry {
  readonly kind: 'tick' | 'reading' | 'signature';
  readonly clientId: string;
  /** By the clock of this phone. */
  readonly madeAt: string;
}

export type EntryAnswer =
  | { readonly how: 'done'; readonly against: readonly string[]; readonly signatures: readonly string[] }
  | { readonly how: 'away' }
  | { readonly how: 'refused'; readonly message: string };

export interface EntryQueueParts<Entry extends BenchEntry> {
  send(entries: readonly Entry[]): Promise<EntryAnswer>;
  /** Keeps what has not arrived where a reload finds it. Signatures are never kept: a PIN stays in nobody's phone. */
  keep(unsent: readonly Entry[]): void;
  wait(milliseconds: number): Promise<void>;
  tell(state: 'sent' | 'sending' | 'away' | 'refused', waiting: number, message?: string): void;
  arrived(answer: Extract<EntryAnswer, { how: 'done' }>): void;
}

const PAUSES = [500, 1000, 2000, 4000, 8000];
const AT_ONCE = 50;

/**
 * Sends what is put down at the bench, in order. Each entry carries a number of its own, so that one sent again after a lost answer is kept
 * once. Of a box that is written over before it was sent only the last is sent. A refused signature is dropped, everything else stays.
 */
export class EntryQueue<Entry extends BenchEntry> {
  readonly #parts: EntryQueueParts<Entry>;
  readonly #replaces: (later: Entry, earlier: Entry) => boolean;
  #waiting: Entry[];
  /** How many at the head are under way: those may have arrived and are not replaced. */
  #underWay = 0;
  #busy = false;

  constructor(
    left: readonly Entry[],
    replaces: (later: Entry, earlier: Entry) => boolean,
    parts: EntryQueueParts<Entry>,
  ) {
    this.#waiting = [...left];
    this.#replaces = replaces;
    this.#parts = parts;
    if (left.length > 0) void this.#run();
  }

  get waiting(): number {
    return this.#waiting.length;
  }

  put(entry: Entry): void {
    this.#waiting = [
      ...this.#waiting.filter((earlier, index) => index < this.#underWay || !this.#replaces(entry, earlier)),
      entry,
    ];
    this.#keep();
    void this.#run();
  }

  async #run(): Promise<void> {
    if (this.#busy) return;
    this.#busy = true;
    let tries = 0;
    let refused: string | undefined;
    while (this.#waiting.length > 0) {
      const batch = this.#waiting.slice(0, AT_ONCE);
      this.#underWay = batch.length;
      this.#parts.tell('sending', this.#waiting.length);
      const answer = await this.#parts.send(batch);
      this.#underWay = 0;
      if (answer.how === 'away') {
        this.#parts.tell('away', this.#waiting.length);
        await this.#parts.wait(PAUSES[Math.min(tries, PAUSES.length - 1)] ?? 8000);
        tries += 1;
        continue;
      }
      tries = 0;
      if (answer.how === 'done') {
        this.#waiting = this.#waiting.slice(batch.length);
        this.#keep();
        this.#parts.arrived(answer);
        continue;
      }
      refused = answer.message;
      const signature = batch.findIndex(({ kind }) => kind === 'signature');
      // What comes before a signature is sent again without harm; where there is none, nothing of the batch is taken.
      this.#waiting =
        signature < 0
          ? this.#waiting.slice(batch.length)
          : this.#waiting.filter((_, index) => index !== signature);
      this.#keep();
    }
    this.#busy = false;
    this.#parts.tell(refused === undefined ? 'sent' : 'refused', 0, refused);
  }

  #keep(): void {
    this.#parts.keep(this.#waiting.filter(({ kind }) => kind !== 'signature'));
  }
}
