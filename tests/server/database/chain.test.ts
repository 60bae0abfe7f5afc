import BetterSqlite3 from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { verify } from '../../../server/commands/verify.ts';
import { quoted, unwatchRows, watchedTables } from '../../../server/database/chain.ts';
import { catchUpChain, checkChain } from '../../../server/database/chain-check.ts';
import { openCopy, type Store } from '../../../server/database/open.ts';
import { testStore } from '../../support/build.ts';
import { type Chance, chance } from '../../support/chance.ts';
import { givenAttempt } from '../../support/given-attempt.ts';

/** A database with a program, graded attempts, and a row in every table; as bytes. */
let image: Buffer;
beforeAll(async () => {
  const store = await testStore();
  for (const [index, signInName] of ['003201', '003202', '003203'].entries())
    await givenAttempt(store, {
      ...{ id: `a${index}`, signInName, sectionId: 1, itemId: 3, seed: `chain-${index}` },
    });
  // A row for every table that has none: what it says does not matter here.
  store.raw.pragma('foreign_keys = OFF');
  store.raw.pragma('ignore_check_constraints = ON');
  for (const { name } of watchedTables(store.raw)) {
    if (store.raw.prepare(`SELECT 1 FROM ${quoted(name)}`).get() !== undefined) continue;
    const columns = store.raw.pragma(`table_info(${quoted(name)})`) as { name: string; type: string }[];
    const value = ({ type }: { type: string }) =>
      type === 'TEXT' ? '{}' : type === 'BLOB' ? Buffer.from('x') : 1;
    store.raw
      .prepare(`INSERT INTO ${quoted(name)} VALUES (${columns.map(() => '?').join(', ')})`)
      .run(...columns.map(value));
  }
  store.raw.pragma('ignore_check_constraints = OFF');
  image = store.raw.serialize();
  await store.close();
});

const opened: Store[] = [];
afterAll(async () => {
  for (const store of opened) await store.close();
});
function copy(bytes = image): Store {
  const store = openCopy(bytes);
  opened.push(store);
  return store;
}

/** As somebody with the file and the tools would: without the program's triggers, and with the schema's taken away meanwhile. */
function fromOutside(work: (raw: BetterSqlite3.Database) => void): Buffer {
  const raw = new BetterSqlite3(image);
  raw.pragma('foreign_keys = OFF');
  raw.pragma('ignore_check_constraints = ON');
  const triggers = raw.prepare(`SELECT name, sql FROM sqlite_master WHERE type = 'trigger'`).all() as {
    name: string;
    sql: string;
  }[];
  for (const { name } of triggers) raw.exec(`DROP TRIGGER ${quoted(name)}`);
  work(raw);
  for (const { sql } of triggers) raw.exec(sql);
  const bytes = raw.serialize();
  raw.close();
  return bytes;
}

/** Another value of the same type. */
function another(value: unknown, type: string, one: Chance): unknown {
  if (value === null) return type === 'TEXT' ? 'x' : type === 'BLOB' ? Buffer.from('x') : 7;
  if (typeof value === 'number')
    return value + one.pick([1, -1, 10, 0.5].filter((by) => type === 'REAL' || by !== 0.5));
  if (Buffer.isBuffer(value)) {
    const bytes = Buffer.from(value);
    const at = one.whole(0, bytes.length - 1);
    bytes[at] = (bytes[at] ?? 0) ^ (1 << one.whole(0, 7));
    return bytes;
  }
  const text = String(value);
  const at = one.whole(0, Math.max(0, text.length - 1));
  return `${text.slice(0, at)}${text[at] === '7' ? '8' : '7'}${text.slice(at + 1)}`;
}

describe('the chain over every row', () => {
  it('agrees with a record that only the program wrote, every table among them', () => {
    const { raw } = copy();
    const checked = checkChain(raw);
    expect(checked.faults).toEqual([]);
    const rows = watchedTables(raw).map(
      ({ name }) =>
        raw
          .prepare(`SELECT count(*) FROM ${quoted(name)}`)
          .pluck()
          .get() as number,
    );
    expect(Math.min(...rows)).toBeGreaterThan(0);
    expect(checked.rows).toBe(rows.reduce((sum, one) => sum + one, 0));
    expect(checked.head).toMatch(/^[0-9a-f]{64}$/);
  });

  it('finds each of 100 edits of a single field, drawn over all tables, the chain itself among them', () => {
    const one = chance(19);
    const { raw } = copy();
    const names = [...watchedTables(raw).map(({ name }) => name), 'chain'];
    const touched = new Set<string>();
    for (let edit = 0; edit < 100; edit += 1) {
      // Every table once, then by lot.
      const name = names[edit] ?? one.pick(names);
      const columns = raw.pragma(`table_info(${quoted(name)})`) as { name: string; type: string }[];
      const column = one.pick(columns);
      const total = raw
        .prepare(`SELECT count(*) FROM ${quoted(name)}`)
        .pluck()
        .get() as number;
      const offset = one.whole(0, total - 1);
      const bytes = fromOutside((outside) => {
        const keys = outside.pragma(`table_info(${quoted(name)})`) as { name: string; pk: number }[];
        const key = keys.filter(({ pk }) => pk > 0).map((part) => part.name);
        const row = outside.prepare(`SELECT * FROM ${quoted(name)} LIMIT 1 OFFSET ?`).get(offset) as Record<
          string,
          unknown
        >;
        const where = key.map((part) => `${quoted(part)} = ?`).join(' AND ');
        const value = another(row[column.name], column.type, one);
        const update = outside.prepare(
          `UPDATE ${quoted(name)} SET ${quoted(column.name)} = ? WHERE ${where}`,
        );
        const set = (to: unknown) => update.run(to, ...key.map((part) => row[part]));
        try {
          set(value);
        } catch (error) {
          // Where the number is taken already, one that is not.
          if (typeof value !== 'number') throw error;
          set(value + 1_000_000);
        }
      });
      touched.add(name);
      const { faults } = checkChain(copy(bytes).raw);
      expect(faults.length, `${name}.${column.name}, row ${offset}`).toBeGreaterThan(0);
      if (name !== 'chain') {
        const tabs = faults.map((fault) => ('entry' in fault ? fault.entry.tab : fault.tab));
        expect(new Set(tabs), `${name}.${column.name}`).toEqual(new Set([name]));
      }
    }
    expect(touched.size).toBe(names.length);
  }, 60_000);

  it('says which row was changed, which is gone, which was put in, and since when they are known', () => {
    const { faults } = checkChain(
      copy(
        fromOutside((raw) => {
          raw.prepare(`UPDATE grades SET points = points + 1 WHERE attempt_id = 'a1'`).run();
          raw.prepare(`DELETE FROM attempt_actions WHERE attempt_id = 'a2' AND seq = 3`).run();
          raw
            .prepare(
              `INSERT INTO terms (id, name, begins_on, ends_on) VALUES (50, 'N', '2026-01-01', '2026-02-01')`,
            )
            .run();
        }),
      ).raw,
    );
    expect(faults).toEqual([
      { kind: 'row-changed', entry: expect.objectContaining({ tab: 'grades', op: '+' }) },
      { kind: 'row-added', tab: 'terms', key: '[50]' },
      {
        kind: 'row-missing',
        entry: expect.objectContaining({ tab: 'attempt_actions', key: '["a2",3]', op: '+' }),
      },
    ]);
  });

  it('names the first broken link, and where entries were cut out', () => {
    const at = (bytes: Buffer) => {
      const fault = checkChain(copy(bytes).raw).faults.find(({ kind }) => kind === 'link-broken');
      return fault !== undefined && 'entry' in fault ? fault.entry.seq : null;
    };
    const set = (sql: string) => fromOutside((raw) => raw.exec(sql));
    expect(at(set(`UPDATE chain SET at = '2026-01-01T00:00:00.000Z' WHERE seq IN (20, 30)`))).toBe(20);
    expect(at(set('DELETE FROM chain WHERE seq = 25'))).toBe(26);
    expect(at(set(`UPDATE chain SET hash = zeroblob(64) WHERE seq = 12`))).toBe(12);
  });

  it('follows updates, upserts, deletions and rows that get another key', () => {
    const { raw } = copy();
    raw.exec(`
      UPDATE people SET given_name = 'Another' WHERE id = 4;
      INSERT INTO terms (id, name, begins_on, ends_on) VALUES (60, 'T', '2026-01-01', '2026-02-01');
      UPDATE terms SET id = 61 WHERE id = 60;
      INSERT INTO terms (id, name, begins_on, ends_on) VALUES (61, 'T', '2026-01-01', '2026-02-01') ON CONFLICT (id) DO UPDATE SET name = 'U';
      DELETE FROM terms WHERE id = 61;`);
    expect(checkChain(raw).faults).toEqual([]);
    expect(
      raw
        .prepare(`SELECT op || key FROM chain WHERE tab = 'terms' ORDER BY seq DESC LIMIT 5`)
        .pluck()
        .all()
        .reverse(),
    ).toEqual(['+[60]', '-[60]', '~[61]', '~[61]', '-[61]']);
  });

  it('undoes its entries with what is undone', () => {
    const { raw } = copy();
    const entries = () => raw.prepare('SELECT count(*) FROM chain').pluck().get();
    const before = entries();
    expect(() =>
      raw.transaction(() => {
        raw.exec(`UPDATE people SET given_name = 'Z'`);
        throw new Error('no');
      })(),
    ).toThrow('no');
    expect(entries()).toBe(before);
    expect(checkChain(raw).faults).toEqual([]);
  });

  it('takes in what was written with nobody watching, as a migration does', () => {
    const { raw } = copy();
    unwatchRows(raw);
    raw.exec(
      `ALTER TABLE terms ADD COLUMN colour TEXT NOT NULL DEFAULT 'blue'; UPDATE people SET given_name = 'M' WHERE id = 5`,
    );
    expect(checkChain(raw).faults.length).toBe(2);
    expect(catchUpChain(raw)).toBe(2);
    expect(checkChain(raw).faults).toEqual([]);
  });
});

describe('verifying a record', () => {
  it('grades a sample again, and finds a grade that somebody changed together with the chain', async () => {
    const store = await testStore();
    await givenAttempt(store, { id: 'g', signInName: '003201', sectionId: 1, itemId: 3, seed: 'again' });
    const sound = await verify(store, 10);
    expect(sound.faults).toEqual([]);
    expect(sound.regraded).toEqual({ same: 1, older: 0, different: [] });
    unwatchRows(store.raw);
    store.raw.exec(`
      DROP TRIGGER grades_keep_update;
      UPDATE grades SET grade = json_set(grade, '$.points.reading', 1), points = 71 WHERE attempt_id = 'g';`);
    catchUpChain(store.raw);
    const { chain, regraded, faults } = await verify(store, 10);
    expect(chain.faults).toEqual([]);
    expect(regraded.different).toEqual(['g']);
    expect(faults).toEqual([
      'Not as the migrations make it: trigger grades_keep_update.',
      'The grade of attempt g does not come out again.',
    ]);
    await store.close();
  });
});
