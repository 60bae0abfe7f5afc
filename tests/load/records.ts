import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { runsSql } from '../../server/exports/evidence-lines.ts';
import { fromRoot } from '../../server/root.ts';
import { testApp } from '../support/build.ts';
import { sessionFor } from '../support/session.ts';
import { type ManyRecords, manyRecords } from './many-records.ts';

/** 2 000 students × 40 competencies × 12 and a half runs is a million. */
const MANY: ManyRecords = { students: 2000, competencies: 40, runs: Number(process.env.BENCH_RUNS ?? 13) };

/** A program over years: the matrix, and every piece of evidence as CSV against what the sqlite3 shell needs to write the same rows. */
export async function records(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'dialbench-records-'));
  try {
    const file = join(folder, 'records.sqlite');
    const store = await manyRecords(file, MANY);
    const attempts = MANY.students * MANY.competencies * MANY.runs;
    console.log(`\nRecords over years: ${attempts} graded runs, ${Math.round(statSync(file).size / 1e6)} MB`);
    await matrix(store);
    await store.close();
    const ours = await childExport(file, join(folder, 'ours.csv'));
    const shell = shellExport(file, join(folder, 'shell.csv'));
    console.log(
      `  evidence as CSV      ${(ours.milliseconds / 1000).toFixed(1)} s for ${ours.rows} rows, ${Math.round(ours.megabytes)} MB resident at most, ${Math.round(ours.before)} MB of them before the first row (goal: under 150)`,
    );
    if (shell === null) console.log('  the sqlite3 shell is not there to compare with');
    else
      console.log(
        `  the sqlite3 shell    ${(shell / 1000).toFixed(1)} s; ours is ${(ours.milliseconds / shell).toFixed(2)} times that (goal: at most 3)`,
      );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function matrix(store: Awaited<ReturnType<typeof manyRecords>>): Promise<void> {
  const built = await testApp({ store });
  const coordinator = await sessionFor(built, 'vossberg');
  for (const path of ['/matrix', '/matrix?page=20', '/matrix?asOf=2024-06-30']) {
    const start = performance.now();
    const { statusCode } = await coordinator.get(path);
    const milliseconds = performance.now() - start;
    console.log(`  ${path.padEnd(24)} ${milliseconds.toFixed(0)} ms, ${statusCode} (goal: under 1000)`);
  }
  await built.app.close();
}

interface ChildExport {
  readonly rows: number;
  readonly milliseconds: number;
  /** Resident at most, and before the first row. */
  readonly megabytes: number;
  readonly before: number;
}

/** In a process of its own, bundled as a built server would be: without the loader of TypeScript, which takes as much again. */
async function childExport(file: string, out: string): Promise<ChildExport> {
  // Where packages are found from.
  const bundle = fromRoot('node_modules/.records-child.mjs');
  const entry = fromRoot('tests/load/records-child.ts');
  await build({
    ...{ entryPoints: [entry], outfile: bundle, bundle: true, logLevel: 'error' },
    ...{ platform: 'node', format: 'esm', packages: 'external' },
  });
  try {
    const told = execFileSync(process.execPath, [bundle, file, out], { encoding: 'utf8' });
    return JSON.parse(told) as ChildExport;
  } finally {
    rmSync(bundle);
  }
}

/** In milliseconds; null where there is no such program. */
function shellExport(file: string, out: string): number | null {
  const items = JSON.stringify(Array.from({ length: MANY.competencies }, (_, index) => 1001 + index));
  const sql = runsSql(false, null)
    .replaceAll('@asOf', `'2026-11-27T00:00:00.000Z'`)
    .replaceAll('@after', '0')
    .replaceAll('@items', `'${items}'`);
  try {
    const start = performance.now();
    execFileSync('sqlite3', ['-readonly', file], {
      input: `.mode csv\n.headers on\n.output ${out}\n${sql};\n`,
      stdio: ['pipe', 'ignore', 'inherit'],
    });
    return performance.now() - start;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}
