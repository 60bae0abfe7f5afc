import type BetterSqlite3 from 'better-sqlite3';
import {
  type Cell,
  type ChainOp,
  digestOfRow,
  FIRST_LINK,
  linkOf,
  quoted,
  type WatchedTable,
  watchedTables,
} from './chain.ts';

/** An entry of the chain. */
export interface ChainEntry {
  readonly seq: number;
  readonly tab: string;
  readonly op: ChainOp;
  readonly key: string;
  readonly at: string;
}

/** What does not agree with the chain. */
export type Fault =
  /** The first entry whose link is not what the entries before it make it. */
  | { readonly kind: 'link-broken'; readonly entry: ChainEntry }
  /** A row is another than when it was last written; `entry` is of then. */
  | { readonly kind: 'row-changed'; readonly entry: ChainEntry }
  /** A row that was written is not there any more. */
  | { readonly kind: 'row-missing'; readonly entry: ChainEntry }
  /** A row that nobody wrote. */
  | { readonly kind: 'row-added'; readonly tab: string; readonly key: string };

export interface ChainCheck {
  readonly entries: number;
  readonly rows: number;
  /** The last link, in hexadecimal digits. */
  readonly head: string;
  /** In the order they were found; at most `most`. */
  readonly faults: readonly Fault[];
}

/** So many faults are listed; more of them say nothing new. */
const MOST_FAULTS = 100;

/**
 * Goes through the whole chain and every row, in one transaction, so that what is written meanwhile does not count. The connection must not be writing.
 * Memory stays small however many rows there are.
 */
export function checkChain(raw: BetterSqlite3.Database): ChainCheck {
  return raw
    .transaction((): ChainCheck => {
      const faults: Fault[] = [];
      const { entries, head } = checkLinks(raw, faults);
      let rows = 0;
      for (const found of rowsAgainst(raw)) {
        if (typeof found === 'number') rows += found;
        else if (faults.length < MOST_FAULTS) faults.push(found.fault);
      }
      return { entries, rows, head, faults };
    })
    .deferred();
}

/** Writes entries for what differs from the chain: after a migration, which changes rows with nobody watching. Gives how many. */
export function catchUpChain(raw: BetterSqlite3.Database): number {
  return raw
    .transaction(() => {
      let at = '';
      let last: Buffer = FIRST_LINK;
      const begun = raw.prepare('SELECT at, hash FROM chain ORDER BY seq DESC LIMIT 1').get() as
        | { at: string; hash: Buffer }
        | undefined;
      if (begun !== undefined) last = begun.hash.subarray(32);
      const add = raw.prepare('INSERT INTO chain (tab, op, key, at, hash) VALUES (?, ?, ?, ?, ?)');
      at = new Date().toISOString();
      let written = 0;
      for (const found of rowsAgainst(raw)) {
        if (typeof found === 'number') continue;
        const { fault, digest } = found;
        const { tab, key } = 'entry' in fault ? fault.entry : fault;
        const op = fault.kind === 'row-added' ? '+' : fault.kind === 'row-missing' ? '-' : '~';
        last = linkOf(last, { tab, op, key, at, digest });
        add.run(tab, op, key, at, Buffer.concat([digest, last]));
        written += 1;
      }
      return written;
    })
    .immediate();
}

function checkLinks(raw: BetterSqlite3.Database, faults: Fault[]) {
  let before: Buffer = FIRST_LINK;
  let entries = 0;
  const all = raw.prepare('SELECT seq, tab, op, key, at, hash FROM chain ORDER BY seq');
  for (const row of all.iterate() as IterableIterator<ChainEntry & { hash: Buffer }>) {
    entries += 1;
    const { hash, ...entry } = row;
    const link = linkOf(before, { ...entry, digest: hash.subarray(0, 32) });
    const isSound = link.equals(hash.subarray(32)) && row.seq === entries;
    if (!isSound && faults.length === 0) faults.push({ kind: 'link-broken', entry });
    // From here on by what stands there, so that one broken link is told from what came after it.
    before = hash.subarray(32);
  }
  return { entries, head: before.toString('hex') };
}

interface Found {
  readonly fault: Fault;
  /** Of the row as it stands; noughts where there is none. */
  readonly digest: Buffer;
}

/** Compares every row with its last entry: gives what differs, and after each table how many rows it has. */
function* rowsAgainst(raw: BetterSqlite3.Database): Generator<Found | number> {
  raw.exec(`
    DROP TABLE IF EXISTS temp.last_entries;
    CREATE TEMP TABLE last_entries (tab TEXT, key TEXT, seq INTEGER, seen INTEGER NOT NULL DEFAULT 0, PRIMARY KEY (tab, key)) WITHOUT ROWID;
    INSERT INTO last_entries (tab, key, seq) SELECT tab, key, max(seq) FROM main.chain GROUP BY tab, key;`);
  const entryOf = raw.prepare(
    `SELECT c.seq, c.tab, c.op, c.key, c.at, c.hash FROM temp.last_entries l JOIN main.chain c ON c.seq = l.seq WHERE l.tab = ? AND l.key = ?`,
  );
  const see = raw.prepare('UPDATE temp.last_entries SET seen = 1 WHERE tab = ? AND key = ?');
  for (const table of watchedTables(raw)) {
    let rows = 0;
    for (const batch of batches(raw, table)) {
      rows += batch.length;
      for (const { key, values } of batch) {
        const entry = entryOf.get(table.name, key) as (ChainEntry & { hash: Buffer }) | undefined;
        see.run(table.name, key);
        const digest = digestOfRow(values);
        if (entry === undefined || entry.op === '-')
          yield { fault: { kind: 'row-added', tab: table.name, key }, digest };
        else if (!digest.equals(entry.hash.subarray(0, 32))) {
          const { hash: _, ...rest } = entry;
          yield { fault: { kind: 'row-changed', entry: rest }, digest };
        }
      }
    }
    yield rows;
  }
  const missing = raw
    .prepare(
      `SELECT c.seq, c.tab, c.op, c.key, c.at FROM temp.last_entries l JOIN main.chain c ON c.seq = l.seq WHERE l.seen = 0 AND c.op <> '-' ORDER BY c.seq`,
    )
    .all() as ChainEntry[];
  for (const entry of missing) yield { fault: { kind: 'row-missing', entry }, digest: Buffer.alloc(32) };
  raw.exec('DROP TABLE temp.last_entries');
}

/** So many rows at a time: a statement that is being read would not let others write. */
const BATCH = 1000;

function* batches(raw: BetterSqlite3.Database, { name, key, columns }: WatchedTable) {
  const names = key.map(quoted);
  const select = `SELECT json_array(${names.join(', ')}), ${columns.map(quoted).join(', ')} FROM main.${quoted(name)}`;
  const order = `ORDER BY ${names.join(', ')} LIMIT ${BATCH}`;
  const first = raw.prepare(`${select} ${order}`).raw();
  const next = raw
    .prepare(`${select} WHERE (${names.join(', ')}) > (${names.map(() => '?').join(', ')}) ${order}`)
    .raw();
  const at = key.map((one) => columns.indexOf(one));
  let rows = first.all() as [string, ...Cell[]][];
  while (rows.length > 0) {
    yield rows.map(([json, ...values]) => ({ key: json, values }));
    const [, ...last] = rows.at(-1) ?? [''];
    rows = next.all(...at.map((index) => last[index])) as [string, ...Cell[]][];
  }
}
