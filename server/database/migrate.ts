import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type BetterSqlite3 from 'better-sqlite3';
import { fromRoot } from '../root.ts';
import { hasChain, unwatchRows, watchRows } from './chain.ts';
import { catchUpChain } from './chain-check.ts';

export interface Migrated {
  /** The database's version before and after; 0 is an empty database. */
  readonly from: number;
  readonly to: number;
}

/** The database is newer than this code, or the migrations are not numbered 1, 2, 3 …; the message says which. */
export class MigrationProblem extends Error {}

/**
 * Brings the database up to the newest migration in `folder`, each in a transaction of its own.
 * Two processes may start together: the version is read again inside the transaction.
 * References are not held to while a table is made anew, but looked over before each commit. Throws MigrationProblem.
 */
export function migrate(raw: BetterSqlite3.Database, folder = fromRoot('migrations')): Migrated {
  const migrations = listMigrations(folder);
  const from = versionOf(raw);
  if (from > migrations.length) {
    throw new MigrationProblem(
      `The database is at version ${from}, but this program only knows versions up to ${migrations.length}. Start a newer program, or restore an older backup.`,
    );
  }
  const held = Number(raw.pragma('foreign_keys', { simple: true }));
  raw.pragma('foreign_keys = OFF');
  if (from < migrations.length) unwatchRows(raw);
  try {
    for (const [index, sql] of migrations.entries()) {
      const version = index + 1;
      const step = raw.transaction(() => {
        if (versionOf(raw) >= version) return;
        raw.exec(sql);
        if ((raw.pragma('foreign_key_check') as unknown[]).length > 0)
          throw new MigrationProblem(`Migration ${version} leaves a reference to a row that is not there.`);
        raw.pragma(`user_version = ${version}`);
      });
      if (version > from) step.immediate();
    }
  } finally {
    raw.pragma(`foreign_keys = ${held}`);
  }
  if (from < migrations.length && hasChain(raw)) {
    // What migrations wrote is entered afterwards: they change tables, and nobody can watch meanwhile.
    catchUpChain(raw);
    watchRows(raw);
  }
  return { from, to: versionOf(raw) };
}

function versionOf(raw: BetterSqlite3.Database): number {
  return Number(raw.pragma('user_version', { simple: true }));
}

function listMigrations(folder: string): string[] {
  const names = readdirSync(folder)
    .filter((name) => name.endsWith('.sql'))
    .sort();
  return names.map((name, index) => {
    if (Number(name.slice(0, 4)) !== index + 1) {
      throw new MigrationProblem(`${name} should be migration number ${index + 1}.`);
    }
    return readFileSync(join(folder, name), 'utf8');
  });
}
