import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { listActions } from '../../server/attempts/queries.ts';
import { migrate } from '../../server/database/migrate.ts';
import { openStore, type Store } from '../../server/database/open.ts';
import {
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftDefinition,
  type CamLiftSheet,
  ENGINE_VERSION,
  generateBench,
  gradeAttempt,
} from '../../server/engine/index.ts';
import { fromRoot } from '../../server/root.ts';
import { barringLoad } from './barring.ts';
import { floorLive } from './floor.ts';
import { lessonPages } from './lessons.ts';
import { practicePage } from './page.ts';
import { records } from './records.ts';
import { rosters } from './rosters.ts';

/** Speeds as ratios to a baseline in the same run: a figure in seconds says more of the machine than of the code. */

const LOGS = 200;
const ROUNDS = 7;

interface Log {
  readonly definition: CamLiftDefinition;
  readonly bench: CamLiftBench;
  readonly actions: readonly CamLiftAction[];
  readonly sheet: CamLiftSheet;
}

/** Sixty actions on two lobes, as a student who knows the way would take them: set up, zero, two passes each. */
function sixtyActions(seed: string): Log {
  const definition: CamLiftDefinition = { kind: 'cam-lift', positions: 2 };
  const bench = generateBench(definition, seed);
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
  const actions = perLobe.flat();
  return { definition, bench, actions, sheet: sheetOf(bench, actions) };
}

/** What the gauge showed, written down; every other log with a turn dropped on one lobe, so that something is to be explained. */
function sheetOf(bench: CamLiftBench, actions: readonly CamLiftAction[]): CamLiftSheet {
  const blank = {
    counterBefore: null,
    counterHigh: null,
    turns: null,
    pointer: null,
    lift: null,
    returned: null,
  };
  const { graduation, rangePerTurn } = bench.dial;
  const shownOf = gradeAttempt(bench, actions, { lobes: [] }).lobes;
  const slips = bench.seed.endsWith('1') || bench.seed.endsWith('5');
  const lobes = shownOf.map(({ position, shown }, index) => {
    const readings = shown.map((lift) => {
      if (lift === null) return blank;
      const turns = Math.floor(lift / rangePerTurn + 1e-9);
      const pointer = Math.round((lift - turns * rangePerTurn) / graduation);
      const written = slips && index === 0 ? turns - 1 : turns;
      return {
        ...blank,
        turns: written,
        pointer,
        lift: written * rangePerTurn + pointer * graduation,
        returned: 0,
      };
    });
    const lift = readings[0]?.lift ?? null;
    return { position, readings, lift, verdict: 'inside' as const, next: 'return-to-service' as const };
  });
  return { lobes };
}

/** Best of several rounds, in milliseconds an item: the rest is what else the machine was doing. */
async function bestOf(work: (index: number) => unknown): Promise<number> {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round += 1) {
    const start = performance.now();
    for (let index = 0; index < LOGS; index += 1) await work(index);
    best = Math.min(best, (performance.now() - start) / LOGS);
  }
  return best;
}

/** A database as the server's, with the logs in its own tables. */
function storeWith(logs: readonly Log[], folder: string): Store {
  const store = openStore(join(folder, 'logs.sqlite'));
  migrate(store.raw);
  // Sections, people and items are left out: only attempts are read.
  store.raw.pragma('foreign_keys = OFF');
  const attempt = store.raw.prepare(
    "INSERT INTO attempts (id, section_id, item_id, student_id, try_number, way, definition, seed, engine_version, started_at) VALUES (?, 1, 1, ?, 1, 'graded-run', ?, ?, ?, '2026-09-14T08:00:00.000Z')",
  );
  const action = store.raw.prepare(
    "INSERT INTO attempt_actions VALUES (?, ?, ?, '2026-09-14T08:00:00.000Z')",
  );
  const handIn = store.raw.prepare("INSERT INTO hand_ins VALUES (?, '{}', ?, ?, '2026-09-14T09:00:00.000Z')");
  store.raw.transaction(() => {
    logs.forEach(({ definition, bench, actions, sheet }, index) => {
      attempt.run(`attempt-${index}`, index + 1, JSON.stringify(definition), bench.seed, ENGINE_VERSION);
      actions.forEach((one, seq) => {
        action.run(`attempt-${index}`, seq, JSON.stringify(one));
      });
      handIn.run(`attempt-${index}`, JSON.stringify(sheet), actions.length);
    });
  })();
  return store;
}

/** All that a grade is a function of, as the server reads it: the attempt, its log, the sheet handed in. */
async function readAttempt({ db }: Store, id: string) {
  const attempt = await db.selectFrom('attempts').where('id', '=', id).selectAll().executeTakeFirstOrThrow();
  const handIn = await db
    .selectFrom('hand_ins')
    .where('attempt_id', '=', id)
    .select('sheet')
    .executeTakeFirstOrThrow();
  return {
    definition: JSON.parse(attempt.definition) as CamLiftDefinition,
    actions: await listActions(db, id),
    sheet: JSON.parse(handIn.sheet) as CamLiftSheet,
  };
}

async function foldingAgainstReading(): Promise<void> {
  const logs = Array.from({ length: LOGS }, (_, index) => sixtyActions(`bench-${index}`));
  const folder = mkdtempSync(join(tmpdir(), 'dialbench-bench-'));
  const store = storeWith(logs, folder);
  const bare = store.raw.prepare<[string], { action: string }>(
    'SELECT action FROM attempt_actions WHERE attempt_id = ? ORDER BY seq',
  );
  const reading = await bestOf((index) => readAttempt(store, `attempt-${index}`));
  const bareReading = await bestOf((index) =>
    bare.all(`attempt-${index}`).map(({ action }) => JSON.parse(action)),
  );
  const folding = await bestOf((index) => {
    const log = logs[index];
    return log === undefined ? null : gradeAttempt(log.bench, log.actions, log.sheet);
  });
  await store.close();
  rmSync(folder, { recursive: true });
  const line = (what: string, ms: number) =>
    console.log(`  ${what.padEnd(48)} ${ms.toFixed(3)} ms each (${Math.round(1000 / ms)} a second)`);
  console.log(
    `A cam-lift log of ${logs[0]?.actions.length ?? 0} actions, ${LOGS} of them, best of ${ROUNDS} rounds:`,
  );
  line('folded and graded', folding);
  line('attempt, log and sheet read as the server does', reading);
  line('the rows of the log alone, read and parsed', bareReading);
  console.log(
    `  ratio: ${(folding / reading).toFixed(1)} to the server's reading (goal: at most 3), ${(folding / bareReading).toFixed(1)} to the bare rows`,
  );
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

await foldingAgainstReading();
await frontDoorSize();
await lessonPages();
await rosters();
await records();
await floorLive();
await practicePage();
await barringLoad();
process.exit(0);
