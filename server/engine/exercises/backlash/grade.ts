import { graduationMm } from '../../bench-parts/gauge.ts';
import { gradeItems, type ItemEvidence, type Result } from '../../bench-parts/grade.ts';
import {
  foldLog,
  type GaugeRun,
  restOf,
  runsOf,
  spanOf,
  type Zeroed,
  zeroedIn,
} from '../../bench-parts/log.ts';
import { USUAL_MISREADINGS } from '../../bench-parts/name-together.ts';
import { checkGaugeSetUp, OWN_SET_UP } from '../../bench-parts/set-up-checks.ts';
import { stepGauged } from '../../bench-parts/step.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade } from '../../grading/types.ts';
import type { BacklashAction, BacklashBench, BacklashSheet, BacklashState } from './types.ts';
import { judgeBacklash } from './verdict.ts';
import { backlashWork, startBacklash } from './work.ts';

type Zero = Zeroed<BacklashState, BacklashAction>;
type Run = GaugeRun<BacklashState, BacklashAction>;

/** Shares of the procedure points. Common practice, no source. */
const WORTH = { everyTooth: 10 / 20, firmly: 5 / 20, returned: 5 / 20 };
const ITEM = 1;

/** What the log and the sheet hold of one tooth. */
interface ToothEvidence {
  readonly tooth: number;
  readonly written: number | null;
  readonly zeros: readonly Zero[];
  readonly used: Zero | null;
}

/** Grades a backlash attempt: a pure function of bench, actions and written sheet. */
export function gradeBacklash(
  bench: BacklashBench,
  actions: readonly BacklashAction[],
  sheet: BacklashSheet,
): Grade {
  const entries = foldLog(startBacklash(bench), actions, (state, action: BacklashAction) =>
    stepGauged(backlashWork, bench, state, action),
  );
  const runs = runsOf(entries);
  const teeth = bench.lashMm.map((_, index) => toothEvidence(bench, runs, sheet, index + 1));
  const share = FULL_POINTS.setUp / teeth.length;
  const checks = [
    ...teeth.flatMap((one) => checkSetUp(bench, one, runs, share)),
    ...checkProcedure(bench, teeth),
  ];
  return gradeItems(bench, runs, [evidenceOf(bench, sheet, teeth, runs)], checks, toothOf);
}

function toothOf(run: Run): number {
  return run.entries[0]?.step.state.tooth ?? 0;
}

function rocksIn(zero: Zero) {
  return zero.entries.flatMap((entry) =>
    entry.action.type === 'rock' ? [{ entry, way: entry.action.way }] : [],
  );
}

/** The movement a zero showed: largest less smallest rest of the pointer, the zero itself among them. In graduations. */
function movementOf(zero: Zero): number {
  return spanOf([0, ...rocksIn(zero).flatMap(({ entry }) => restOf(entry)?.graduations ?? [])]) ?? 0;
}

function toothEvidence(
  bench: BacklashBench,
  runs: readonly Run[],
  sheet: BacklashSheet,
  tooth: number,
): ToothEvidence {
  const length = sheet.teeth[tooth - 1] ?? null;
  const written = length === null ? null : length / bench.dial.graduation;
  const own = runs.filter((run) => toothOf(run) === tooth).flatMap(zeroedIn);
  const zeros = own.filter((zero) => rocksIn(zero).length > 0);
  const near = zeros.filter((zero) => written !== null && Math.abs(movementOf(zero) - written) <= 2);
  return { tooth, written, zeros, used: near.at(-1) ?? zeros.at(-1) ?? null };
}

function evidenceOf(
  bench: BacklashBench,
  sheet: BacklashSheet,
  teeth: readonly ToothEvidence[],
  runs: readonly Run[],
): ItemEvidence<BacklashState, BacklashAction> {
  const inGraduations = (length: number | null) => (length === null ? null : length / bench.dial.graduation);
  const written = teeth.flatMap((one) => one.written ?? []);
  const shown = teeth.flatMap(({ used }) => (used === null ? [] : [movementOf(used)]));
  const spread = spanOf(written);
  const results: Result[] = [
    ...teeth.map(({ tooth, written: own, used }): Result => {
      const movement = used === null ? null : movementOf(used);
      return {
        name: `tooth-${tooth}`,
        written: own,
        shown: movement,
        share: 0.7 / teeth.length,
        from: 'gauge',
        misread: USUAL_MISREADINGS,
      };
    }),
    worked(
      'smallest',
      inGraduations(sheet.smallest),
      written.length === 0 ? null : Math.min(...written),
      0.08,
    ),
    worked('largest', inGraduations(sheet.largest), written.length === 0 ? null : Math.max(...written), 0.08),
    worked('spread', inGraduations(sheet.spread), spread, 0.14),
  ];
  const verdictOf = (graduations: readonly number[]) =>
    graduations.length === 0
      ? null
      : judgeBacklash(
          graduations.map((one) => one * bench.dial.graduation),
          bench.specification,
          bench.spread,
          bench.dial,
        );
  const truth = bench.lashMm.map((lashMm) => lashMm / graduationMm(bench));
  return {
    item: ITEM,
    run: teeth.flatMap(({ used }) => used?.run ?? []).at(-1) ?? runs.at(-1) ?? null,
    results,
    written: { verdict: sheet.verdict, next: sheet.next },
    fromWritten: verdictOf(written),
    fromShown: verdictOf(shown.map((one) => Math.round(one))),
    truly: bench.truly,
    setUpsAgree: teeth.some((one) => agreeOn(bench, one)),
    truth: {
      ...Object.fromEntries(truth.map((one, index) => [`tooth-${index + 1}`, one])),
      smallest: Math.min(...truth),
      largest: Math.max(...truth),
      spread: spanOf(truth) ?? 0,
    },
  };
}

function worked(name: string, written: number | null, shown: number | null, share: number): Result {
  return { name, written, shown, share, from: 'written' };
}

/** Two set-ups on one tooth agree within 0.001 in. Common practice, no source. */
function agreeOn(bench: BacklashBench, { zeros }: ToothEvidence): boolean {
  const within = 0.0254 / graduationMm(bench) + 1e-6;
  return zeros.some((a) =>
    zeros.some((b) => a.run.setUp < b.run.setUp && Math.abs(movementOf(a) - movementOf(b)) <= within),
  );
}

/** The gauge's set-up at a tooth, and the zero against a flank. A tooth passed over is charged as procedure, not here. */
function checkSetUp(bench: BacklashBench, one: ToothEvidence, runs: readonly Run[], points: number): Check[] {
  const { tooth, used } = one;
  const run = used?.run ?? runs.filter((own) => toothOf(own) === tooth).at(-1) ?? null;
  if (run === null && runs.length > 0) return [passed('setUp', points)];
  const zeroed = used ?? (run === null ? null : (zeroedIn(run).at(-1) ?? null));
  const movementGraduations = used === null ? 0 : movementOf(used);
  return [
    ...checkGaugeSetUp(backlashWork, bench, { item: tooth, run, zeroed, movementGraduations }, points),
    checkZero(bench, tooth, zeroed, points * OWN_SET_UP),
  ];
}

function checkZero(bench: BacklashBench, tooth: number, zero: Zero | null, worth: number): Check {
  if (zero === null) return failed('setUp', worth, { code: 'never-zeroed', position: tooth, at: null });
  const loose = rocksIn(zero).find(({ entry }) => !entry.before.held);
  if (loose !== undefined)
    return failed('setUp', worth, { code: 'gear-not-held', position: tooth, at: loose.entry.at });
  const { rockedMm } = zero.state;
  const hair = 0.5 * graduationMm(bench);
  const atFlank = rockedMm <= hair || rockedMm >= (bench.lashMm[tooth - 1] ?? 0) - hair;
  const ways = new Set(rocksIn(zero).map(({ way }) => way));
  if (atFlank || ways.size === 2) return passed('setUp', worth);
  return failed('setUp', worth, { code: 'zero-off-the-flank', position: tooth, at: zero.at });
}

function checkProcedure(bench: BacklashBench, teeth: readonly ToothEvidence[]): Check[] {
  const points = FULL_POINTS.procedure;
  const used = teeth.flatMap((one) => (one.used === null ? [] : [{ tooth: one.tooth, zero: one.used }]));
  const [first] = used;
  if (first === undefined)
    return [failed('procedure', points, { code: 'never-moved', position: ITEM, at: null })];
  const fail = (worth: number, code: string, position: number, at: number, values = {}, met = 0) =>
    failed('procedure', points * worth, { code, position, at, values }, met);
  const soft = used
    .flatMap(({ tooth, zero }) => rocksIn(zero).map(({ entry }) => ({ tooth, entry })))
    .find(({ entry }) => entry.step.said.some(({ code }) => code === 'springy-stop'));
  const unreturned = used.find(({ zero }) => !cameBack(zero));
  return [
    used.length === bench.lashMm.length
      ? passed('procedure', points * WORTH.everyTooth)
      : fail(
          WORTH.everyTooth,
          used.length === 1 ? 'one-tooth-only' : 'teeth-left-out',
          first.tooth,
          first.zero.at,
          { measured: used.length, wanted: bench.lashMm.length },
          used.length === 1 ? 0 : 0.5,
        ),
    soft === undefined
      ? passed('procedure', points * WORTH.firmly)
      : fail(WORTH.firmly, 'not-rocked-fully', soft.tooth, soft.entry.at),
    unreturned === undefined
      ? passed('procedure', points * WORTH.returned)
      : fail(WORTH.returned, 'zero-not-seen-again', unreturned.tooth, unreturned.zero.at),
  ];
}

/** Rocked away from the zero and back to it. */
function cameBack(zero: Zero): boolean {
  const ways = rocksIn(zero).map(({ way }) => way);
  return ways.some((way, index) => index > 0 && way !== ways[index - 1]);
}
