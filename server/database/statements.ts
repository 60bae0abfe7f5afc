import type BetterSqlite3 from 'better-sqlite3';

/** More than the program has queries; lists of other lengths make new ones, and the oldest go. */
const MOST_KEPT = 400;

const kept = new WeakMap<BetterSqlite3.Database, Map<string, BetterSqlite3.Statement>>();

/**
 * A statement prepared once for a connection: preparing costs more than running a small query does. Take it anew for each use, and read it to
 * its end: a statement still being iterated cannot be run a second time.
 */
export function prepared<Parameters extends unknown[] = unknown[], Row = unknown>(
  raw: BetterSqlite3.Database,
  sql: string,
): BetterSqlite3.Statement<Parameters, Row> {
  const statements = kept.get(raw) ?? new Map<string, BetterSqlite3.Statement>();
  kept.set(raw, statements);
  const statement = statements.get(sql) ?? raw.prepare(sql);
  // Taken out and put in again, so that the first in the map is the one longest unused.
  statements.delete(sql);
  statements.set(sql, statement);
  const [oldest] = statements.keys();
  if (statements.size > MOST_KEPT && oldest !== undefined) statements.delete(oldest);
  return statement as BetterSqlite3.Statement<Parameters, Row>;
}
