import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { groupedWork } from '../../../server/database/commit-queue.ts';
import { openStore, type Store } from '../../../server/database/open.ts';
import { prepared } from '../../../server/database/statements.ts';
import { writeTransaction } from '../../../server/database/transaction.ts';

let folder: string;
let store: Store;
let other: Store;

const add = (text: string) =>
  groupedWork(store, (raw) => raw.prepare('INSERT INTO notes VALUES (?)').run(text).changes);
/** As another process sees it: only what is committed. */
const committed = () => other.raw.prepare('SELECT text FROM notes ORDER BY rowid').pluck().all();

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'dialbench-queue-'));
  store = openStore(join(folder, 'notes.sqlite'));
  store.raw.exec('CREATE TABLE notes (text TEXT UNIQUE)');
  other = openStore(join(folder, 'notes.sqlite'));
});

afterEach(async () => {
  await store.close();
  await other.close();
  rmSync(folder, { recursive: true });
});

describe('writes that are committed together', () => {
  it('are one commit, and each is on disk before it is answered', async () => {
    const before = other.raw.pragma('data_version', { simple: true });
    const seen: unknown[] = [];
    const during = groupedWork(store, (raw) => {
      seen.push(raw.prepare('SELECT count(*) FROM notes').pluck().get(), committed().length);
    });
    const all = [add('one'), add('two'), add('three')].map((one) => one.then(committed));
    const last = groupedWork(store, (raw) => {
      seen.push(raw.prepare('SELECT count(*) FROM notes').pluck().get(), committed().length);
    });
    await Promise.all([during, last]);
    for (const at of await Promise.all(all)) expect(at).toEqual(['one', 'two', 'three']);
    expect(seen).toEqual([0, 0, 3, 0]);
    expect(other.raw.pragma('data_version', { simple: true })).not.toBe(before);
  });

  it('undo one that throws and keep the others', async () => {
    const failing = groupedWork(store, (raw) => {
      raw.prepare("INSERT INTO notes VALUES ('half')").run();
      throw new Error('on purpose');
    });
    const [first, failed, twice, last] = await Promise.allSettled([
      add('one'),
      failing,
      add('one'),
      add('two'),
    ]);
    expect([first.status, failed.status, twice.status, last.status]).toEqual([
      'fulfilled',
      'rejected',
      'rejected',
      'fulfilled',
    ]);
    expect(committed()).toEqual(['one', 'two']);
  });

  it('all fail where the whole transaction is undone', async () => {
    const undone = groupedWork(store, (raw) => {
      raw.exec('ROLLBACK');
      throw new Error('the disk is full');
    });
    const ends = await Promise.allSettled([add('one'), undone, add('two')]);
    expect(ends.map(({ status }) => status)).toEqual(['rejected', 'rejected', 'rejected']);
    expect(committed()).toEqual([]);
    await add('three');
    expect(committed()).toEqual(['three']);
  });

  it('wait for a transaction that is open', async () => {
    const order: string[] = [];
    const transaction = writeTransaction(store, async () => {
      for (let n = 0; n < 20; n += 1) await new Promise(setImmediate);
      order.push('transaction');
    });
    const note = add('one').then(() => order.push('note'));
    await Promise.all([transaction, note]);
    expect(order).toEqual(['transaction', 'note']);
  });
});

describe('a statement prepared once', () => {
  it('is the same at each use, and the longest unused goes when there are many', () => {
    const first = prepared(store.raw, 'SELECT 1');
    expect(prepared(store.raw, 'SELECT 1')).toBe(first);
    expect(prepared(other.raw, 'SELECT 1')).not.toBe(first);
    for (let n = 0; n < 400; n += 1) prepared(store.raw, `SELECT ${n} + 1`);
    expect(prepared(store.raw, 'SELECT 1')).not.toBe(first);
  });
});
