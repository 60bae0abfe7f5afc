import type { Store } from '../database/open.ts';

/** How often it is looked for changes while somebody watches: twice in the second within which they are to be seen. */
const LOOK_MS = 400;

/**
 * Tells whoever watches that something was written to the database. It is looked at twice a second, and only while somebody watches: `total_changes`
 * counts what this process wrote, `data_version` moves when another did, and neither costs more than a question. What changed is for the
 * watcher to find out.
 */
export class Watch {
  readonly #store: Store;
  readonly #watchers = new Set<() => void>();
  #timer: NodeJS.Timeout | undefined;
  #last = '';

  constructor(store: Store) {
    this.#store = store;
  }

  /** Calls `changed` after writes; what comes back stops it. */
  on(changed: () => void): () => void {
    this.#watchers.add(changed);
    if (this.#timer === undefined) {
      this.#last = this.#stand();
      this.#timer = setInterval(() => this.#look(), LOOK_MS);
      this.#timer.unref();
    }
    return () => {
      this.#watchers.delete(changed);
      if (this.#watchers.size > 0) return;
      clearInterval(this.#timer);
      this.#timer = undefined;
    };
  }

  #look(): void {
    const stand = this.#stand();
    if (stand === this.#last) return;
    this.#last = stand;
    for (const changed of this.#watchers) changed();
  }

  #stand(): string {
    const { raw } = this.#store;
    // What is not committed yet counts too: whoever looks after it waits for the same connection, and so until it is.
    const own = raw.prepare('SELECT total_changes() AS n').get() as { n: number };
    return `${own.n} ${raw.pragma('data_version', { simple: true })}`;
  }
}
