import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { migrate } from '../../../server/database/migrate.ts';
import { openStore, type Store } from '../../../server/database/open.ts';

describe('migrating', () => {
  let store: Store;
  let folder: string;
  beforeEach(() => {
    store = openStore(':memory:');
    folder = mkdtempSync(join(tmpdir(), 'dialbench-migrations-'));
  });
  afterEach(async () => {
    await store.close();
    rmSync(folder, { recursive: true });
  });

  it('brings an empty database to the newest version, and does nothing the second time', () => {
    const first = migrate(store.raw);
    expect(first.from).toBe(0);
    expect(first.to).toBeGreaterThanOrEqual(4);
    expect(migrate(store.raw)).toEqual({ from: first.to, to: first.to });
  });

  it('leaves every table STRICT and every foreign key whole', () => {
    migrate(store.raw);
    const tables = store.raw.pragma('table_list') as { name: string; type: string; strict: number }[];
    const loose = tables.filter(
      (table) => table.type === 'table' && !table.name.startsWith('sqlite_') && !table.strict,
    );
    expect(loose).toEqual([]);
    expect(store.raw.pragma('foreign_key_check')).toEqual([]);
  });

  it('refuses a database newer than the program, and touches nothing', () => {
    store.raw.pragma('user_version = 9999');
    expect(() => migrate(store.raw)).toThrow('The database is at version 9999');
    expect(store.raw.prepare('SELECT count(*) AS n FROM sqlite_schema').get()).toEqual({ n: 0 });
  });

  it('undoes a migration that fails half way, and keeps those before it', () => {
    writeFileSync(join(folder, '0001-a.sql'), 'CREATE TABLE a (x) STRICT;'.replace('(x)', '(x TEXT)'));
    writeFileSync(join(folder, '0002-b.sql'), 'CREATE TABLE b (x TEXT) STRICT; NONSENSE;');
    expect(() => migrate(store.raw, folder)).toThrow('NONSENSE');
    expect(store.raw.pragma('user_version', { simple: true })).toBe(1);
    expect(store.raw.prepare('SELECT name FROM sqlite_schema').all()).toEqual([{ name: 'a' }]);
  });

  it('refuses a gap in the numbers', () => {
    writeFileSync(join(folder, '0002-b.sql'), 'SELECT 1;');
    expect(() => migrate(store.raw, folder)).toThrow('0002-b.sql should be migration number 1.');
  });
});
