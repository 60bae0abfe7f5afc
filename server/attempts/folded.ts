import type { Store } from '../database/open.ts';
import {
  type AnyAction,
  type AnyBench,
  type AnySeen,
  type AnyState,
  act,
  generateBench,
  startBench,
} from '../engine/index.ts';
import { definitionOf } from '../labsheets/index.ts';
import { type AttemptRow, listActions } from './queries.ts';

/** An attempt's bench and how it stands after everything in its log. The bench holds the truth: it stays in the server. */
export interface Folded {
  readonly bench: AnyBench;
  readonly state: AnyState;
  /** Place in the log of the next action. */
  readonly next: number;
}

/** The bench of an attempt, drawn again from its definition and seed. */
export function benchOf({
  definition,
  way,
  seed,
}: Pick<AttemptRow, 'definition' | 'way' | 'seed'>): AnyBench {
  return generateBench(definitionOf(definition, way), seed);
}

/** Folds actions on, with what is perceived of each. */
export function foldOn(
  from: Folded,
  actions: readonly AnyAction[],
): { readonly folded: Folded; readonly seen: AnySeen[] } {
  let { state } = from;
  const seen = actions.map((action) => {
    const result = act(from.bench, state, action);
    state = result.state;
    return result.seen;
  });
  return { folded: { bench: from.bench, state, next: from.next + actions.length }, seen };
}
/** Twice as many as a large college has at its benches at once; each is some tens of kilobytes. */
const MOST_KEPT = 2000;

/**
 * Keeps attempts being worked on folded, so that a step of barring costs one step. Only a memory of the log: it may be forgotten at
 * any time, and nothing is in it that is not on disk.
 */
export class FoldedAttempts {
  readonly #store: Store;
  readonly #kept = new Map<string, Folded>();

  constructor(store: Store) {
    this.#store = store;
  }

  async get(attempt: AttemptRow): Promise<Folded> {
    const kept = this.#kept.get(attempt.id);
    if (kept !== undefined) return kept;
    const actions = await listActions(this.#store.db, attempt.id);
    return foldOn(this.start(attempt), actions).folded;
  }

  /** As it stood when its log was this long. */
  async getAt(attempt: AttemptRow, length: number): Promise<Folded> {
    const actions = await listActions(this.#store.db, attempt.id);
    return foldOn(this.start(attempt), actions.slice(0, length)).folded;
  }

  start(attempt: AttemptRow): Folded {
    const bench = benchOf(attempt);
    return { bench, state: startBench(bench), next: 0 };
  }

  /** Remembers how an attempt stands, unless something later is remembered already. */
  keep(attemptId: string, folded: Folded): void {
    if ((this.#kept.get(attemptId)?.next ?? 0) > folded.next) return;
    this.#kept.delete(attemptId);
    this.#kept.set(attemptId, folded);
    const [oldest] = this.#kept.keys();
    if (this.#kept.size > MOST_KEPT && oldest !== undefined) this.#kept.delete(oldest);
  }

  forget(attemptId: string): void {
    this.#kept.delete(attemptId);
  }
}
