import { graduationMm } from '../../bench-parts/gauge.ts';
import { gradeItems, type ItemEvidence, type Result } from '../../bench-parts/grade.ts';
import { verdictIn } from '../../bench-parts/limits.ts';
import { foldLog, type GaugeRun, restOf, runsOf, type Zeroed, zeroedIn } from '../../bench-parts/log.ts';
import { USUAL_MISREADINGS } from '../../bench-parts/name-together.ts';
import { checkGaugeSetUp, OWN_SET_UP } from '../../bench-parts/set-up-checks.ts';
import { stepGauged } from '../../bench-parts/step.ts';
import type { GaugeMoment } from '../../bench-parts/types.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade } from '../../grading/types.ts';
import { readingLimits, tirMm } from './generate.ts';
import { PUSH_HOLDS_DEG } from './surface.ts';
import { eccentricityFrom, totalReading } from './total-reading.ts';
import {
  PLACES,
  type PlaceTruth,
  type RunOutAction,
  type RunOutBench,
  type RunOutSheet,
  type RunOutState,
  type WrittenRunOut,
} from './types.ts';
import { runOutWork, startRunOut } from './work.ts';

type Zero = Zeroed<RunOutState, RunOutAction>;
type Run = GaugeRun<RunOutState, RunOutAction>;

const WHOLE_TURN_DEG = 355;
const PUSHED_EVERY_DEG = PUSH_HOLDS_DEG;

const BLANK = {
  ...{ highest: null, lowest: null, tir: null, eccentricity: null, highSpotDeg: null },
  ...{ verdict: null, next: null },
};

/** Grades a run-out attempt: a pure function of bench, actions and written sheet. */
export function gradeRunOut(bench: RunOutBench, actions: readonly RunOutAction[], sheet: RunOutSheet): Grade {
  const entries = foldLog(startRunOut(bench), actions, (state, action: RunOutAction) =>
    stepGauged(runOutWork, bench, state, action),
  );
  const runs = runsOf(entries);
  const graded = bench.places.map((truth) => {
    const item = itemOf(truth.place);
    const written = sheet.places.find((one) => one.item === item) ?? { item, ...BLANK };
    return gradePlace(
      bench,
      truth,
      written,
      runs.filter((run) => placeOf(run) === truth.place),
    );
  });
  return gradeItems(
    bench,
    runs,
    graded.map(({ evidence }) => evidence),
    graded.flatMap(({ checks }) => checks),
    (run) => itemOf(placeOf(run)),
  );
}

function placeOf(run: Run) {
  return run.entries[0]?.step.state.place ?? 'rim';
}

function itemOf(place: PlaceTruth['place']): number {
  return PLACES.indexOf(place) + 1;
}

function gradePlace(
  bench: RunOutBench,
  truth: PlaceTruth,
  written: WrittenRunOut,
  runs: readonly Run[],
): { evidence: ItemEvidence<RunOutState, RunOutAction>; checks: readonly Check[] } {
  const { item } = written;
  const zeros = runs.flatMap(zeroedIn);
  const turned = zeros.filter((zero) => turnedOver(zero) > 0);
  const wanted = written.tir === null ? null : written.tir / bench.dial.graduation;
  const near = turned.filter((zero) => wanted !== null && Math.abs(shownTir(zero, truth) - wanted) <= 2);
  const used = near.at(-1) ?? turned.at(-1) ?? null;
  const run = used?.run ?? runs.at(-1) ?? null;
  const zeroed = used ?? (run === null ? null : (zeroedIn(run).at(-1) ?? null));
  const movementGraduations = used === null ? 0 : shownTir(used, truth);
  const share = 1 / bench.places.length;
  const setUp = FULL_POINTS.setUp * share;
  return {
    evidence: evidenceOf(bench, truth, written, turned, used, run),
    checks: [
      ...checkGaugeSetUp(runOutWork, bench, { item, run, zeroed, movementGraduations }, setUp),
      zeroed === null
        ? failed('setUp', setUp * OWN_SET_UP, { code: 'never-zeroed', position: item, at: run?.at ?? null })
        : passed('setUp', setUp * OWN_SET_UP),
      ...checkProcedure(truth, item, used, FULL_POINTS.procedure * share),
    ],
  };
}

/** Degrees of the work seen under a zero: from the least angle to the greatest. */
function turnedOver({ entries, state }: Zero): number {
  const angles = [state.turnedDeg, ...entries.map(({ step }) => step.state.turnedDeg)];
  return Math.max(...angles) - Math.min(...angles);
}

/**
 * What the gauge showed under a zero: all the way round on a rim; on a face, where the shaft wanders while it is turned, only
 * where it was left to rest against its stop, if there are enough of those.
 */
function seenUnder(zero: Zero, truth: PlaceTruth): readonly GaugeMoment[] {
  const moved = zero.entries.filter(({ action }) => action.type === 'turn' || action.type === 'push');
  const all = moved.flatMap(({ step }) => step.moments);
  if (truth.place === 'rim') return all;
  const rests = moved.filter(({ action }) => action.type === 'push').flatMap((entry) => restOf(entry) ?? []);
  return rests.length >= 4 ? rests : all;
}

function shownTir(zero: Zero, truth: PlaceTruth): number {
  const seen = seenUnder(zero, truth).map(({ graduations }) => graduations);
  return seen.length === 0 ? 0 : totalReading(seen);
}

function evidenceOf(
  bench: RunOutBench,
  truth: PlaceTruth,
  written: WrittenRunOut,
  turned: readonly Zero[],
  used: Zero | null,
  run: Run | null,
): ItemEvidence<RunOutState, RunOutAction> {
  const inGraduations = (length: number | null) => (length === null ? null : length / bench.dial.graduation);
  const seen = used === null ? [] : seenUnder(used, truth);
  const values = seen.map(({ graduations }) => graduations);
  const [high, low] = values.length === 0 ? [null, null] : [Math.max(...values), Math.min(...values)];
  const shown = used === null ? null : shownTir(used, truth);
  const highMoment = seen.find(({ graduations }) => graduations === high);
  const [highest, lowest] = [inGraduations(written.highest), inGraduations(written.lowest)];
  const tir = inGraduations(written.tir);
  const onRim = truth.place === 'rim';
  const results: Result[] = [
    {
      name: 'highest',
      written: highest,
      shown: high,
      share: 0.15,
      from: 'gauge',
      misread: USUAL_MISREADINGS,
    },
    { name: 'lowest', written: lowest, shown: low, share: 0.15, from: 'gauge', misread: USUAL_MISREADINGS },
    tirResult({ highest, lowest, tir }, { high, low, shown }, onRim ? 0.35 : 0.5),
    {
      name: 'high-spot',
      written: written.highSpotDeg,
      shown: highMoment === undefined ? null : highMoment.turnedDeg,
      share: 0.2,
      from: 'angle',
    },
  ];
  if (onRim) {
    const half = tir === null ? null : eccentricityFrom(tir);
    results.push({
      name: 'eccentricity',
      written: inGraduations(written.eccentricity),
      shown: half,
      share: 0.15,
      from: 'written',
      likely: tir === null ? [] : [{ mistake: 'half-not-taken', graduations: tir }],
    });
  }
  const limits = readingLimits(bench.specification, bench.limitOn);
  const verdictOf = (graduations: number | null) =>
    graduations === null ? null : verdictIn(limits, graduations * bench.dial.graduation, bench.dial);
  return {
    item: written.item,
    run,
    results,
    written: { verdict: written.verdict, next: written.next },
    fromWritten: verdictOf(tir),
    fromShown: verdictOf(shown === null ? null : Math.round(shown)),
    truly: truth.truly,
    setUpsAgree: setUpsAgree(bench, truth, turned),
    truth: { tir: tirMm(truth) / graduationMm(bench), 'high-spot': truth.highDeg },
  };
}

type OrBlank = number | null;

/** The whole reading: worked out from highest and lowest where both are written, else held against the gauge. */
function tirResult(
  { highest, lowest, tir }: Readonly<Record<'highest' | 'lowest' | 'tir', OrBlank>>,
  { high, low, shown }: Readonly<Record<'high' | 'low' | 'shown', OrBlank>>,
  share: number,
): Result {
  const carried = highest !== null && lowest !== null;
  const [most, least] = carried ? [highest, lowest] : [high, low];
  const wanted = shown !== null && carried ? highest - lowest : shown;
  const likely = wanted === null || most === null || least === null ? [] : mistakesFor(wanted, most, least);
  return { name: 'tir', written: tir, shown: wanted, share, from: carried ? 'written' : 'gauge', likely };
}

/** Two set-ups agree within 0.001 in. Common practice, no source. */
function setUpsAgree(bench: RunOutBench, truth: PlaceTruth, turned: readonly Zero[]): boolean {
  const within = 0.0254 / graduationMm(bench) + 1e-6;
  return turned.some((a) =>
    turned.some(
      (b) => a.run.setUp < b.run.setUp && Math.abs(shownTir(a, truth) - shownTir(b, truth)) <= within,
    ),
  );
}

function mistakesFor(tir: number, high: number, low: number) {
  return [
    { mistake: 'half-taken', graduations: tir / 2 },
    { mistake: 'largest-only', graduations: Math.max(Math.abs(high), Math.abs(low)) },
    { mistake: 'sign-lost', graduations: Math.abs(Math.abs(high) - Math.abs(low)) },
    { mistake: 'decimal-place', graduations: tir * 10 },
    { mistake: 'decimal-place', graduations: tir / 10 },
  ];
}

function checkProcedure(truth: PlaceTruth, item: number, zero: Zero | null, points: number): Check[] {
  if (zero === null) return [failed('procedure', points, { code: 'never-moved', position: item, at: null })];
  const onFace = truth.place === 'face';
  const turnedDeg = turnedOver(zero);
  const worth = onFace
    ? { whole: 8 / 20, again: 4 / 20, pushed: 8 / 20 }
    : { whole: 12 / 20, again: 8 / 20, pushed: 0 };
  const fail = (share: number, code: string, values = {}) =>
    failed('procedure', points * share, { code, position: item, at: zero.at, values });
  const checks = [
    turnedDeg >= WHOLE_TURN_DEG
      ? passed('procedure', points * worth.whole)
      : fail(worth.whole, 'not-a-whole-turn', { turnedDeg: Math.round(turnedDeg) }),
    // Less than a turn has been charged; more than one is what a second look takes.
    cameBack(zero)
      ? passed('procedure', points * worth.again)
      : fail(worth.again, 'not-back-to-zero', { turnedDeg: Math.round(turnedDeg) }),
  ];
  if (!onFace) return checks;
  const widest = widestWithoutPush(zero);
  return [
    ...checks,
    widest <= PUSHED_EVERY_DEG
      ? passed('procedure', points * worth.pushed)
      : fail(worth.pushed, 'not-pushed-one-way', { degrees: Math.round(widest) }),
  ];
}

/** Did the work come to rest again, a whole turn on, where it was zeroed? */
function cameBack({ entries, state }: Zero): boolean {
  return entries.some(({ step }) => Math.abs(Math.abs(step.state.turnedDeg - state.turnedDeg) - 360) <= 10);
}

/** Most degrees the work was turned without the shaft being pushed. */
function widestWithoutPush(zero: Zero): number {
  return zero.entries.reduce((widest, { action, step }) => {
    if (action.type !== 'turn') return widest;
    const { pushedAtDeg, turnedDeg } = step.state;
    return Math.max(widest, pushedAtDeg === null ? 360 : Math.abs(turnedDeg - pushedAtDeg));
  }, 0);
}
