import { createHash } from 'node:crypto';
import type BetterSqlite3 from 'better-sqlite3';

/** Added, changed, gone. */
export type ChainOp = '+' | '~' | '-';

/** A table whose rows the chain holds. */
export interface WatchedTable {
  readonly name: string;
  readonly key: readonly string[];
  /** All columns, in their order. */
  readonly columns: readonly string[];
}

/** What a value is read as; `Buffer` for a BLOB. */
export type Cell = string | number | bigint | null | Buffer;

/** The link before the first. */
export const FIRST_LINK = Buffer.alloc(32);

/** Of a row that is gone. */
const NO_ROW = Buffer.alloc(32);

/** Whether this database has a chain: one that was not brought up to date yet has none. */
export function hasChain(raw: BetterSqlite3.Database): boolean {
  return (
    raw.prepare(`SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'chain'`).get() !== undefined
  );
}

/** Every table but the chain itself. */
export function watchedTables(raw: BetterSqlite3.Database): readonly WatchedTable[] {
  const names = raw
    .prepare(
      `SELECT name FROM sqlite_master WHERE type = 'table' AND name <> 'chain' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name`,
    )
    .pluck()
    .all() as string[];
  return names.map((name) => {
    const columns = raw.pragma(`table_info(${quoted(name)})`) as { name: string; pk: number }[];
    const key = columns.filter(({ pk }) => pk > 0).sort((one, other) => one.pk - other.pk);
    if (key.length === 0) throw new Error(`The table ${name} has no primary key.`);
    return { name, key: key.map((one) => one.name), columns: columns.map((one) => one.name) };
  });
}

/** SHA-256 of a row's values in the order of its columns. */
export function digestOfRow(values: readonly Cell[]): Buffer {
  return createHash('sha256')
    .update(
      JSON.stringify(values, function (this: unknown[], index, value) {
        // `toJSON` has made an object of a Buffer before this is asked.
        const cell = index === '' ? value : this[Number(index)];
        if (Buffer.isBuffer(cell)) return { sha256: createHash('sha256').update(cell).digest('hex') };
        return typeof cell === 'bigint' ? { integer: cell.toString() } : value;
      }),
    )
    .digest();
}

/** The link of an entry: SHA-256 of the link before it and of all it says. */
export function linkOf(
  before: Buffer,
  { tab, op, key, at, digest }: { tab: string; op: string; key: string; at: string; digest: Buffer },
): Buffer {
  return createHash('sha256')
    .update(before)
    .update(JSON.stringify([tab, op, key, at]))
    .update(digest)
    .digest();
}

/** From now on each row that this connection writes has its entry in the chain, in the same transaction. */
export function watchRows(raw: BetterSqlite3.Database): void {
  raw.function(
    'chain_hash',
    { varargs: true },
    (before: Cell, tab: string, op: string, key: string, at: string, ...values: Cell[]) => {
      const digest = op === '-' ? NO_ROW : digestOfRow(values);
      const link = linkOf(before === null ? FIRST_LINK : (before as Buffer).subarray(32), {
        ...{ tab, op, key, at, digest },
      });
      return Buffer.concat([digest, link]);
    },
  );
  const statements = watchedTables(raw).flatMap((table) => [
    triggerOf(table, 'insert', 'INSERT', [entryOf(table, '+', 'NEW')]),
    triggerOf(table, 'update', 'UPDATE', [
      // A row under another key is another row.
      `${entryOf(table, '-', 'OLD')} WHERE ${keyOf(table, 'OLD')} <> ${keyOf(table, 'NEW')}`,
      entryOf(table, '~', 'NEW'),
    ]),
    triggerOf(table, 'delete', 'DELETE', [entryOf(table, '-', 'OLD')]),
  ]);
  raw.exec(statements.join('\n'));
}

/** Stops that, so that tables can be made anew. */
export function unwatchRows(raw: BetterSqlite3.Database): void {
  const names = raw
    .prepare(
      `SELECT name FROM sqlite_temp_master WHERE type = 'trigger' AND name LIKE 'watch\\_%' ESCAPE '\\'`,
    )
    .pluck()
    .all() as string[];
  raw.exec(names.map((name) => `DROP TRIGGER temp.${quoted(name)};`).join('\n'));
}

// Temporary triggers belong to the connection, not to the schema: they may call a function of the program, which `trusted_schema = OFF` forbids others.
function triggerOf({ name }: WatchedTable, when: string, on: string, entries: readonly string[]): string {
  const trigger = quoted(`watch_${name}_${when}`);
  return `CREATE TEMP TRIGGER ${trigger} AFTER ${on} ON main.${quoted(name)} BEGIN ${entries.map((one) => `${one};`).join(' ')} END;`;
}

const NOW = `strftime('%Y-%m-%dT%H:%M:%fZ', 'now')`;
const LAST = '(SELECT hash FROM chain ORDER BY seq DESC LIMIT 1)';

function entryOf(table: WatchedTable, op: ChainOp, row: 'OLD' | 'NEW'): string {
  const key = keyOf(table, row);
  const values = op === '-' ? [] : table.columns.map((column) => `${row}.${quoted(column)}`);
  const hashed = [LAST, `'${table.name}'`, `'${op}'`, key, NOW, ...values].join(', ');
  return `INSERT INTO chain (tab, op, key, at, hash) SELECT '${table.name}', '${op}', ${key}, ${NOW}, chain_hash(${hashed})`;
}

function keyOf({ key }: WatchedTable, row: string): string {
  return `json_array(${key.map((column) => `${row}.${quoted(column)}`).join(', ')})`;
}

/** A name as SQL writes it. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
