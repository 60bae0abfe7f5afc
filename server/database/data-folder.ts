import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { openStore, type Store } from './open.ts';

/** The data folder cannot be used; the message is one plain sentence. */
export class DataFolderProblem extends Error {}

export const DATABASE_FILE = 'dialbench.sqlite';
const SECRET_FILE = 'session-secret';

/**
 * Opens the database in the data folder, making both when they are new, and finds what signs the session cookie:
 * the one given, or one made once and kept beside the database for its owner alone. Throws DataFolderProblem.
 */
export function openDataFolder(
  dataDir: string,
  givenSecret?: string,
): { readonly store: Store; readonly sessionSecret: string } {
  const folder = resolve(dataDir);
  try {
    mkdirSync(folder, { recursive: true });
    const sessionSecret = givenSecret ?? keptSecret(join(folder, SECRET_FILE));
    const store = openStore(join(folder, DATABASE_FILE));
    return { store, sessionSecret };
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code ?? (error as Error).message;
    throw new DataFolderProblem(
      `The data folder ${folder} cannot be used (${reason}). Make it writable, or set DATA_DIR to another folder.`,
    );
  }
}

function keptSecret(file: string): string {
  try {
    // `wx` refuses an existing file, so two starts at once agree on one secret.
    writeFileSync(file, `${randomBytes(32).toString('base64url')}\n`, { mode: 0o600, flag: 'wx' });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
  const secret = readFileSync(file, 'utf8').trim();
  if (secret.length < 32) throw new Error(`${SECRET_FILE} is too short; delete it`);
  return secret;
}
