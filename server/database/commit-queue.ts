import type BetterSqlite3 from 'better-sqlite3';
import type { Store } from './open.ts';
import { rawWork } from './transaction.ts';

interface Waiting {
  readonly work: (raw: BetterSqlite3.Database) => unknown;
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: unknown) => void;
}

const queues = new WeakMap<Store, Waiting[]>();

/**
 * Runs short synchronous writes of several requests in one IMMEDIATE transaction, each in a savepoint of its own, and answers them once it
 * is committed. Waiting for the disk is the dear part of a small write, and one wait serves all that have come meanwhile. What is
 * thrown undoes that write alone; a commit that fails fails them all. None is answered before it is on disk.
 */
export function groupedWork<T>(store: Store, work: (raw: BetterSqlite3.Database) => T): Promise<T> {
  const queue = queues.get(store) ?? [];
  queues.set(store, queue);
  return new Promise<T>((resolve, reject) => {
    queue.push({ work, resolve: resolve as (value: unknown) => void, reject });
    // The first of a group waits until every request that has arrived is read; those that come while another's transaction is open join it.
    if (queue.length === 1) setImmediate(() => void commit(store, queue));
  });
}

async function commit(store: Store, queue: Waiting[]): Promise<void> {
  let group: Waiting[] = [];
  try {
    const answers = await rawWork(store, (raw) => {
      group = queue.splice(0);
      return raw.transaction(() => group.map((one) => attempt(raw, one))).immediate();
    });
    for (const answer of answers) answer();
  } catch (error) {
    // Without a connection nothing was taken from the queue yet: those still in it are as lost.
    for (const { reject } of [...group, ...queue.splice(0)]) reject(error);
  }
}

/** Does one write; gives how to answer it after the commit. */
function attempt(raw: BetterSqlite3.Database, { work, resolve, reject }: Waiting): () => void {
  try {
    const value = raw.transaction(work)(raw);
    return () => resolve(value);
  } catch (error) {
    // A full disk undoes the whole transaction, not the savepoint: nothing of the group is kept.
    if (!raw.inTransaction) throw error;
    return () => reject(error);
  }
}
