import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Every file under a folder, from the root of the project, with forward slashes. */
function filesIn(folder: string, extensions: readonly string[]): string[] {
  if (!existsSync(path.join(root, folder))) return [];
  return readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => path.posix.join(folder, name.split(path.sep).join('/')))
    .filter((name) => extensions.includes(path.extname(name)));
}

const textOf = (file: string) => readFileSync(path.join(root, file), 'utf8');

/** What a file imports: packages as they are named, our own files from the root of the project. */
function importsOf(file: string): string[] {
  const found = textOf(file).matchAll(/(?:\bfrom\s+|\bimport\s*\(?\s*)['"]([^'"]+)['"]/g);
  return [...found].flatMap(([, name]) =>
    name === undefined ? [] : [name.startsWith('.') ? path.posix.join(path.posix.dirname(file), name) : name],
  );
}

/** The code without comments and texts, where a forbidden word may well be spoken of. */
function codeOf(file: string): string {
  return textOf(file)
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/\/\/.*$/gm, '')
    .replace(/'(?:[^'\\\n]|\\.)*'/g, "''");
}

const engine = filesIn('server/engine', ['.ts']);
const server = filesIn('server', ['.ts']);
const client = filesIn('views/client', ['.ts']);
/** Shared by all rooms, and the small scripts that start the server or fill it: neither is a feature. */
const NO_FEATURES = ['database', 'web', 'commands'];
const roomOf = (file: string) => /^server\/([^/]+)\//.exec(file)?.[1] ?? null;

function check(files: readonly string[], faultsIn: (file: string) => readonly string[]) {
  expect(files.length).toBeGreaterThan(0);
  expect(files.flatMap((file) => faultsIn(file).map((fault) => `${file}: ${fault}`))).toEqual([]);
}

describe('the measuring engine', () => {
  it('imports nothing from outside its folder but pure-rand', () => {
    check(engine, (file) =>
      importsOf(file).filter((name) => !name.startsWith('server/engine/') && !name.startsWith('pure-rand/')),
    );
  });

  it('knows no clock, no chance but the seed, no machine and no network', () => {
    const forbidden =
      /\b(Math\.random|Date|performance|process|globalThis|fetch|console|setTimeout|crypto)\b/g;
    check(engine, (file) => codeOf(file).match(forbidden) ?? []);
  });
});

describe('the browser code', () => {
  it("takes nothing from the server but the engine's front door", () => {
    check(client, (file) =>
      importsOf(file).filter((name) => name.startsWith('server/') && name !== 'server/engine/index.ts'),
    );
  });
});

describe('the rooms of the server', () => {
  it("leave each other's queries, tables and routes alone and come in by the door", () => {
    check(server, (file) => {
      const own = roomOf(file);
      if (own === null || NO_FEATURES.includes(own)) return [];
      return importsOf(file).filter((name) => {
        const other = roomOf(name);
        if (other === null || other === own || NO_FEATURES.includes(other)) return false;
        // The type of a column may be the type of another room's column.
        if (file.endsWith('/tables.ts') && name.endsWith('/tables.ts')) return false;
        return name !== `server/${other}/index.ts`;
      });
    });
  });

  it('are not reached into by the engine', () => {
    check(engine, (file) =>
      importsOf(file).filter((name) => name.startsWith('server/') && roomOf(name) !== 'engine'),
    );
  });
});

describe('careful work', () => {
  /** They lay out the bench of a demonstration, hand on what is seen there and show the work; the page is made of what they tell. */
  const GIVE_BENCH = ['demonstration', 'work-shown'].map((name) => `server/demonstrations/${name}.ts`);
  const PAGE = [...GIVE_BENCH, 'server/demonstrations/routes.ts', 'server/demonstrations/index.ts'];
  const hands = filesIn('server/demonstrations', ['.ts']).filter((file) => !PAGE.includes(file));

  it('is made of the brief and what is seen, never of the bench', () => {
    const bench = /\b(generateBench|startBench|lookAt|act|gradeAttempt|BenchOf|StateOf|\w+Bench|\w+State)\b/g;
    check(hands, (file) => codeOf(file).match(bench) ?? []);
  });

  it('takes nothing from the files that give it a bench', () => {
    check(hands, (file) => importsOf(file).filter((name) => GIVE_BENCH.includes(name)));
  });
});

describe('files', () => {
  it('are no longer than 400 lines', () => {
    check([...server, ...filesIn('views', ['.ts', '.eta', '.css'])], (file) => {
      const lines = textOf(file).split('\n').length - 1;
      return lines > 400 ? [`${lines} lines`] : [];
    });
  });
});
