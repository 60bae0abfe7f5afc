import type BetterSqlite3 from 'better-sqlite3';
import type { Transaction } from 'kysely';
import type { Store } from './open.ts';
import type { Database } from './tables.ts';

/**
 * Runs `work` in one IMMEDIATE transaction and gives back what it gives; anything thrown undoes the whole.
 * Inside, use only `trx`: a query on `store.db` there waits for ever, and awaiting anything but the database
 * stalls every other request. Hash, parse, grade and render before.
 */
export function writeTransaction<T>(
  store: Store,
  work: (trx: Transaction<Database>) => Promise<T>,
): Promise<T> {
  return store.db.transaction().execute(work);
}

/**
 * Runs synchronous work on the bare connection while nobody else's transaction is open on it.
 * For hot paths and group commits: `rawWork(store, (raw) => raw.transaction(() => …).immediate())`.
 */
export function rawWork<T>(store: Store, work: (raw: BetterSqlite3.Database) => T): Promise<T> {
  return store.db.connection().execute(async () => work(store.raw));
}
