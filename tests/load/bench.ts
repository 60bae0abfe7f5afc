import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import BetterSqlite3 from 'better-sqlite3';
import { build } from 'esbuild';
import {
  type AnyBench,
  type CamLiftAction,
  type CamLiftSheet,
  generateBench,
  gradeAttempt,
} from '../../server/engine/index.ts';
import { fromRoot } from '../../server/root.ts';

/** Speeds as ratios to a baseline in the same run: a figure in seconds says more of the machine than of the code. */

const LOGS = 200;
const ROUNDS = 7;

interface Log {
  readonly bench: AnyBench;
  readonly actions: readonly CamLiftAction[];
  readonly sheet: CamLiftSheet;
}

/** Sixty actions on two lobes, as a student who knows the way would take them: set up, zero, two passes each. */
function sixtyActions(seed: string): Log {
  const bench = generateBench({ kind: 'cam-lift', positions: 2 }, seed);
  const perLobe = bench.positions.map((position): CamLiftAction[] => [
    { type: 'move', position },
    { type: 'seat' },
    { type: 'press' },
    { type: 'preload', turns: 0.5 },
    ...Array.from({ length: 3 }, (): CamLiftAction => ({ type: 'lift-tip' })),
    { type: 'zero' },
    { type: 'clamp' },
    ...Array.from({ length: 19 }, (): CamLiftAction => ({ type: 'bar', degrees: 360 / 9.5, speed: 20 })),
    { type: 'note', position, reading: 1, box: 'lift' },
    { type: 'note', position, reading: 2, box: 'lift' },
  ]);
  const lobes = bench.positions.map((position) => ({
    position,
    readings: [1, 2].map(() => ({
      counterBefore: 0.2,
      counterHigh: 2.6,
      turns: 2,
      pointer: 14,
      lift: 0.214,
      returned: 0,
    })),
    lift: 0.214,
    verdict: 'inside' as const,
    next: 'return-to-service' as const,
  }));
  return { bench, actions: perLobe.flat(), sheet: { lobes } };
}

/** Best of several rounds, in milliseconds an item: the rest is what else the machine was doing. */
function bestOf(work: (index: number) => unknown): number {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round += 1) {
    const start = performance.now();
    for (let index = 0; index < LOGS; index += 1) work(index);
    best = Math.min(best, (performance.now() - start) / LOGS);
  }
  return best;
}

function foldingAgainstReading(): void {
  const logs = Array.from({ length: LOGS }, (_, index) => sixtyActions(`bench-${index}`));
  const folder = mkdtempSync(join(tmpdir(), 'dialbench-bench-'));
  const db = new BetterSqlite3(join(folder, 'logs.sqlite'));
  db.exec(
    'CREATE TABLE actions (attempt TEXT, seq INTEGER, action TEXT, at TEXT, PRIMARY KEY (attempt, seq)) STRICT, WITHOUT ROWID',
  );
  const insert = db.prepare('INSERT INTO actions VALUES (?, ?, ?, ?)');
  db.transaction(() => {
    logs.forEach(({ actions }, index) => {
      actions.forEach((action, seq) => {
        insert.run(`attempt-${index}`, seq, JSON.stringify(action), '2026-09-14T08:00:00.000Z');
      });
    });
  })();
  const select = db.prepare<[string], { action: string }>(
    'SELECT action FROM actions WHERE attempt = ? ORDER BY seq',
  );
  const reading = bestOf((index) => select.all(`attempt-${index}`).map(({ action }) => JSON.parse(action)));
  const folding = bestOf((index) => {
    const log = logs[index];
    return log === undefined ? null : gradeAttempt(log.bench, log.actions, log.sheet);
  });
  db.close();
  rmSync(folder, { recursive: true });
  const count = logs[0]?.actions.length ?? 0;
  console.log(`A cam-lift log of ${count} actions, ${LOGS} of them, best of ${ROUNDS} rounds:`);
  console.log(
    `  folded and graded       ${folding.toFixed(3)} ms each (${Math.round(1000 / folding)} a second)`,
  );
  console.log(
    `  read from SQLite and parsed  ${reading.toFixed(3)} ms each (${Math.round(1000 / reading)} a second)`,
  );
  console.log(`  ratio                   ${(folding / reading).toFixed(2)} (goal: at most 3)`);
}

async function frontDoorSize(): Promise<void> {
  const result = await build({
    entryPoints: [fromRoot('server', 'engine', 'index.ts')],
    bundle: true,
    minify: true,
    format: 'esm',
    target: 'es2022',
    write: false,
    logLevel: 'silent',
  });
  const bytes = gzipSync(result.outputFiles[0]?.contents ?? new Uint8Array(), { level: 9 }).length;
  console.log(
    `The engine's front door, bundled for the browser: ${(bytes / 1000).toFixed(1)} kB gzipped (goal: under 40)`,
  );
}

foldingAgainstReading();
await frontDoorSize();
