import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DATABASE_FILE, openDataFolder } from '../../../server/database/data-folder.ts';
import { migrate } from '../../../server/database/migrate.ts';
import { openStore, type Store } from '../../../server/database/open.ts';
import { rawWork, writeTransaction } from '../../../server/database/transaction.ts';

const SECTION = { name: 'A', term: 'T', created_at: '2026-01-01T00:00:00.000Z' };

describe('the database in a data folder', () => {
  let folder: string;
  let store: Store;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'dialbench-data-'));
    store = openDataFolder(folder).store;
    migrate(store.raw);
  });
  afterEach(async () => {
    await store.close();
    rmSync(folder, { recursive: true });
  });

  const count = async () => (await store.db.selectFrom('sections').selectAll().execute()).length;

  it('is opened so that a commit survives a power cut and foreign keys hold', () => {
    const pragma = (name: string) => store.raw.pragma(name, { simple: true });
    expect(pragma('journal_mode')).toBe('wal');
    expect(pragma('synchronous')).toBe(2);
    expect(pragma('foreign_keys')).toBe(1);
    expect(pragma('busy_timeout')).toBe(5000);
    expect(pragma('trusted_schema')).toBe(0);
  });

  it('writes all of a transaction or nothing', async () => {
    await writeTransaction(store, (trx) => trx.insertInto('sections').values(SECTION).execute());
    const failing = writeTransaction(store, async (trx) => {
      await trx
        .insertInto('sections')
        .values({ ...SECTION, name: 'B' })
        .execute();
      throw new Error('on purpose');
    });
    await expect(failing).rejects.toThrow('on purpose');
    expect(await count()).toBe(1);
  });

  it('begins a write transaction IMMEDIATE: no other process can write before its first statement', async () => {
    const other = openStore(join(folder, DATABASE_FILE));
    other.raw.pragma('busy_timeout = 0');
    await writeTransaction(store, async (trx) => {
      await trx.selectFrom('sections').selectAll().execute();
      expect(() =>
        other.raw.exec("INSERT INTO sections (name, term, created_at) VALUES ('X', 'T', '')"),
      ).toThrow('database is locked');
    });
    await other.close();
  });

  it('keeps raw work out of a transaction that is open', async () => {
    let inside = false;
    const transaction = writeTransaction(store, async (trx) => {
      inside = true;
      for (let n = 0; n < 20; n += 1) await trx.selectFrom('sections').selectAll().execute();
      inside = false;
    });
    const raw = rawWork(store, (connection) => [inside, connection.inTransaction]);
    await transaction;
    expect(await raw).toEqual([false, false]);
  });

  it('keeps its secret for its owner alone, the same at each start', () => {
    const first = openDataFolder(folder);
    const second = openDataFolder(folder);
    expect(first.sessionSecret).toBe(second.sessionSecret);
    expect(first.sessionSecret.length).toBeGreaterThanOrEqual(32);
    expect(statSync(join(folder, 'session-secret')).mode & 0o777).toBe(0o600);
    expect(openDataFolder(folder, 'another secret, given in the environment').sessionSecret).toContain(
      'another',
    );
  });
});

describe('a data folder that cannot be used', () => {
  it('is told in one sentence', () => {
    expect(() => openDataFolder('/dev/null/data')).toThrow(
      /^The data folder \/dev\/null\/data cannot be used \(ENOTDIR\)\. Make it writable, or set DATA_DIR/,
    );
  });
});
