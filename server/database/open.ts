import BetterSqlite3 from 'better-sqlite3';
import {
  CompiledQuery,
  type DatabaseConnection,
  Kysely,
  type SqliteDatabase,
  SqliteDialect,
  SqliteDriver,
  type SqliteStatement,
} from 'kysely';
import { hasChain, watchRows } from './chain.ts';
import { prepared } from './statements.ts';
import type { Database } from './tables.ts';

/**
 * The one open database. `db` is for queries; `raw` is for starting up, for commands and for tests.
 * Code that answers a request never touches `raw` directly, because a Kysely transaction may be open on the
 * same connection: it goes through {@link rawWork}.
 */
export interface Store {
  readonly raw: BetterSqlite3.Database;
  readonly db: Kysely<Database>;
  close(): Promise<void>;
}

/** Opens the database file, making it when it is new. Throws when the file cannot be opened. */
export function openStore(file: string): Store {
  return storeOf(new BetterSqlite3(file));
}

/** Opens a copy, in memory, of what `serialize()` gave. */
export function openCopy(image: Buffer): Store {
  return storeOf(new BetterSqlite3(image));
}

function storeOf(raw: BetterSqlite3.Database): Store {
  setPragmas(raw);
  if (hasChain(raw)) watchRows(raw);
  const db = new Kysely<Database>({
    dialect: new ImmediateSqliteDialect({ database: keepingStatements(raw) }),
  });
  return { raw, db, close: () => db.destroy() };
}

/** The connection as Kysely sees it, which would prepare every query anew each time. */
function keepingStatements(raw: BetterSqlite3.Database): SqliteDatabase {
  return { prepare: (sql) => prepared(raw, sql) as SqliteStatement, close: () => raw.close() };
}

/** FULL, because in WAL the driver's own default may lose the last commits in a power cut. */
function setPragmas(raw: BetterSqlite3.Database): void {
  raw.pragma('busy_timeout = 5000');
  raw.pragma('journal_mode = WAL');
  raw.pragma('synchronous = FULL');
  raw.pragma('foreign_keys = ON');
  raw.pragma('trusted_schema = OFF');
}

/** A transaction that reads and then writes must be IMMEDIATE from its start, or two processes can refuse each other. */
class ImmediateSqliteDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'));
  }
}

class ImmediateSqliteDialect extends SqliteDialect {
  readonly #database: SqliteDatabase;

  constructor(config: { database: SqliteDatabase }) {
    super(config);
    this.#database = config.database;
  }

  override createDriver(): SqliteDriver {
    return new ImmediateSqliteDriver({ database: this.#database });
  }
}
