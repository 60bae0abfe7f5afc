import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * The project's root: the nearest folder upwards that holds package.json, so that paths are the same from source and from a build.
 * Throws when there is none.
 */
export function projectRoot(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json'))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error('No package.json was found above the server.');
    folder = parent;
  }
  return folder;
}

/** An absolute path from parts below the project's root. */
export function fromRoot(...parts: string[]): string {
  return join(projectRoot(), ...parts);
}
