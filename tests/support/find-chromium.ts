import { execFileSync } from 'node:child_process';
import { accessSync, constants, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from '@playwright/test';
import { fromRoot } from '../../server/root.ts';

/** No Chromium could be found or got; the message says what to do. */
export class NoChromium extends Error {}

const FOUND_FILE = fromRoot('node_modules', '.cache', 'dialbench-chromium');
const DEBIAN = '/usr/bin/chromium';

/** What finding looks at, so that a test can hand in another machine. */
export interface Machine {
  readonly chromiumPath: string | undefined;
  runs(path: string): boolean;
  /** The path of a program by its name, or undefined. */
  which(name: string): string | undefined;
  playwrightsOwn(): string;
  /** Installs Debian's package; false where that cannot be done. */
  installDebian(): boolean;
}

/**
 * The first Chromium there is: CHROMIUM_PATH, Debian's, google-chrome, Playwright's own download, and last, as root on
 * Debian, one installed now. A CHROMIUM_PATH that leads nowhere stops at once, since somebody meant it. Throws NoChromium.
 */
export function findChromium(machine: Machine): string {
  if (machine.chromiumPath) {
    if (machine.runs(machine.chromiumPath)) return machine.chromiumPath;
    throw new NoChromium(
      `CHROMIUM_PATH is ${machine.chromiumPath}, and no program is there that can be run.`,
    );
  }
  const candidates = [DEBIAN, machine.which('google-chrome'), machine.playwrightsOwn()];
  const found = candidates.find((path) => path !== undefined && machine.runs(path));
  if (found) return found;
  if (machine.installDebian() && machine.runs(DEBIAN)) return DEBIAN;
  throw new NoChromium(
    'The browser tests need Chromium and none was found. Install it (on Debian: apt-get install chromium; elsewhere: npx playwright install chromium), or set CHROMIUM_PATH to where it is.',
  );
}

/** What `npm test` found before it began; undefined when it was not asked yet. */
export function foundChromium(): string | undefined {
  return existsSync(FOUND_FILE) ? readFileSync(FOUND_FILE, 'utf8').trim() || undefined : undefined;
}

const thisMachine: Machine = {
  chromiumPath: process.env.CHROMIUM_PATH || undefined,
  runs(path) {
    try {
      accessSync(path, constants.X_OK);
      return true;
    } catch {
      return false;
    }
  },
  which(name) {
    const folders = (process.env.PATH ?? '').split(':').filter((folder) => folder !== '');
    return folders.map((folder) => `${folder}/${name}`).find((path) => this.runs(path));
  },
  playwrightsOwn: () => chromium.executablePath(),
  installDebian() {
    if (process.getuid?.() !== 0 || !existsSync('/etc/debian_version')) return false;
    console.log('No Chromium found: installing the Debian package chromium.');
    try {
      const options = {
        stdio: 'inherit' as const,
        env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
      };
      execFileSync('apt-get', ['update'], options);
      execFileSync('apt-get', ['install', '-y', 'chromium'], options);
      return true;
    } catch {
      return false;
    }
  },
};

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  try {
    const path = findChromium(thisMachine);
    mkdirSync(dirname(FOUND_FILE), { recursive: true });
    writeFileSync(FOUND_FILE, `${path}\n`);
    console.log(`Chromium: ${path}`);
  } catch (error) {
    if (!(error instanceof NoChromium)) throw error;
    console.error(error.message);
    process.exit(1);
  }
}
