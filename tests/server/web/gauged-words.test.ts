import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { KIND_NAMES } from '../../../server/engine/index.ts';
import { fromRoot } from '../../../server/root.ts';
import { GAUGED_MISTAKES, GAUGED_REMARK_CODES } from '../../../server/web/words/gauged-remarks.ts';

const ENGINE = fromRoot('server', 'engine');

/** Where the kinds other than cam lift make their remarks. */
function remarkFiles(): string[] {
  const parts = readdirSync(join(ENGINE, 'bench-parts')).filter((name) =>
    /-checks\.ts$|^grade\.ts$/.test(name),
  );
  return [
    ...parts.map((name) => join(ENGINE, 'bench-parts', name)),
    ...KIND_NAMES.filter((kind) => kind !== 'cam-lift').flatMap((kind) =>
      readdirSync(join(ENGINE, 'exercises', kind))
        .filter((name) => /^(grade|diagnose|evidence|check-)/.test(name))
        .map((name) => join(ENGINE, 'exercises', kind, name)),
    ),
  ];
}

const text = remarkFiles()
  .map((file) => readFileSync(file, 'utf8'))
  .join('\n');
const literals = new Set([...text.matchAll(/'([a-z]+(?:-[a-z]+)*)'/g)].map(([, code]) => code ?? ''));

describe('the words of the kinds with a gauge on a stand', () => {
  it('has no words for a remark or mistake that the engine no longer makes', () => {
    const made = [...GAUGED_REMARK_CODES, ...GAUGED_MISTAKES].filter((code) => !literals.has(code));
    expect(made).toEqual([]);
  });

  it('has words for every remark that the engine makes', () => {
    // A remark is made by `code: '…'` or handed by name to the function that fails a check.
    const codes = new Set(
      [...text.matchAll(/(?:code: |fail\(\s*)'([a-z]+(?:-[a-z]+)+)'/g)].map(([, code]) => code ?? ''),
    );
    const stops = new Set([
      ...['whole-turn-error', 'bad-part-passed', 'bad-lobe-passed', 'reading-without-measurement'],
    ]);
    const known = new Set<string>([...GAUGED_REMARK_CODES, ...GAUGED_MISTAKES]);
    expect(codes.size).toBeGreaterThan(15);
    expect([...codes].filter((code) => !known.has(code) && !stops.has(code))).toEqual([]);
  });
});
