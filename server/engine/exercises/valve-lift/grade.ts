import { graduationMm } from '../../bench-parts/gauge.ts';
import { gradeItems } from '../../bench-parts/grade.ts';
import { foldLog, runsOf, zeroedIn } from '../../bench-parts/log.ts';
import { checkGaugeSetUp, OWN_SET_UP } from '../../bench-parts/set-up-checks.ts';
import { stepGauged } from '../../bench-parts/step.ts';
import { CYCLE_DEG } from '../../drive/firing.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade } from '../../grading/types.ts';
import { evidenceOf, lengthsOf, type ValveItem, verdictOn } from './evidence.ts';
import { handled, type Measured, measuredAt, type ValveRun, type ValveZero } from './measured.ts';
import { lobeMm } from './train.ts';
import { PLACES, type ValveAction, type ValveBench, type ValveSheet, type ValveTruth } from './types.ts';
import { startValves, valveWork } from './work.ts';

/** Shares of a valve's procedure points; nose and return are asked for on pushrod and retainer. Common practice, no source. */
const WORTH = { nose: 5 / 20, returned: 3 / 20, lash: 4 / 20 };
/** The nose counts as passed from so near, crank degrees. */
const NEAR_NOSE_DEG = 2;

/** Grades a valve-lift attempt: a pure function of bench, actions and written sheet. */
export function gradeValves(bench: ValveBench, actions: readonly ValveAction[], sheet: ValveSheet): Grade {
  const entries = foldLog(startValves(bench), actions, (state, action: ValveAction) =>
    stepGauged(valveWork, bench, state, action),
  );
  const runs = runsOf(entries);
  const zeros = runs.flatMap(zeroedIn);
  const items = bench.valves.map((truth, index) => itemOf(bench, runs, zeros, sheet, truth, index + 1));
  const share = 1 / items.length;
  const checks = items.flatMap((item) => [
    ...PLACES.flatMap((place) =>
      checkSetUp(bench, item, item.measured[place], (FULL_POINTS.setUp * share) / 3),
    ),
    ...checkProcedure(bench, item, FULL_POINTS.procedure * share),
    ...checkComparison(bench, item),
  ]);
  return gradeItems(
    bench,
    runs,
    items.map((item) => evidenceOf(bench, item, items)),
    checks,
    (run) => items.find(({ truth }) => isAt(run, truth))?.item ?? 0,
  );
}

const BLANK = {
  ...{ lobeLift: null, valveLift: null, lash: null, ratio: null },
  ...{ verdict: null, next: null },
};

function itemOf(
  bench: ValveBench,
  runs: readonly ValveRun[],
  zeros: readonly ValveZero[],
  sheet: ValveSheet,
  truth: ValveTruth,
  item: number,
): ValveItem {
  const { cylinder, valve } = truth;
  const own = sheet.valves.find((one) => one.cylinder === cylinder && one.valve === valve);
  const written = own ?? { cylinder, valve, ...BLANK };
  const lengths = lengthsOf(bench, written);
  return { item, truth, written, lengths, measured: measuredAt(truth, runs, zeros, lengths) };
}

function isAt({ entries }: ValveRun, { cylinder, valve }: ValveTruth): boolean {
  const spot = entries[0]?.step.state.spot;
  return spot?.cylinder === cylinder && spot.valve === valve;
}

function checkSetUp(bench: ValveBench, { item, truth }: ValveItem, at: Measured, points: number): Check[] {
  const { run, shown } = at;
  const zeroed = at.zero ?? (run === null ? null : (zeroedIn(run).at(-1) ?? null));
  const evidence = { item, run, zeroed, movementGraduations: shown ?? 0 };
  return [
    ...checkGaugeSetUp(valveWork, bench, evidence, points),
    checkZero(bench, item, truth, at, zeroed, points * OWN_SET_UP),
  ];
}

/** Zero is taken with the tappet on the base circle; a tappet that has bled down is charged once, where the valve's lift is read. */
function checkZero(
  bench: ValveBench,
  item: number,
  truth: ValveTruth,
  { place }: Measured,
  zero: ValveZero | null,
  worth: number,
): Check {
  const fail = (code: string, values = {}) =>
    failed('setUp', worth, { code, position: item, at: zero?.at ?? null, values });
  if (zero === null) return fail('never-zeroed');
  const upGraduations = lobeMm(truth, zero.state.crankDeg) / graduationMm(bench);
  if (upGraduations > 0.5)
    return fail('zero-off-the-base-circle', { offGraduations: Math.round(10 * upGraduations) / 10 });
  const soft = truth.bledMm > 0 && handled(zero, place).some(({ before }) => !before.pumped);
  return place === 'retainer' && soft ? fail('tappet-bled-down') : passed('setUp', worth);
}

function checkProcedure(bench: ValveBench, { item, truth, measured }: ValveItem, points: number): Check[] {
  return [
    ...checkBarring(bench, item, truth, measured.pushrod, points),
    ...checkBarring(bench, item, truth, measured.retainer, points),
    checkLash(item, measured.rocker, points * WORTH.lash),
  ];
}

/** Barred over the nose, and on to the base circle again. */
function checkBarring(
  bench: ValveBench,
  item: number,
  truth: ValveTruth,
  { zero, place }: Measured,
  points: number,
): Check[] {
  const worth = points * (WORTH.nose + WORTH.returned);
  if (zero === null) return [failed('procedure', worth, { code: 'never-moved', position: item, at: null })];
  const bars = handled(zero, place);
  const over = bars.find(({ before, step }) => passes(truth, before.crankDeg, step.state.crankDeg));
  const hair = 0.5 * graduationMm(bench);
  const back = bars.some(
    ({ at, step }) => over !== undefined && at >= over.at && lobeMm(truth, step.state.crankDeg) <= hair,
  );
  const check = (met: boolean, share: number, code: string) =>
    met
      ? passed('procedure', points * share)
      : failed('procedure', points * share, { code, position: item, at: zero.at });
  return [
    check(over !== undefined, WORTH.nose, 'nose-not-passed'),
    check(back, WORTH.returned, 'base-not-seen-again'),
  ];
}

function passes({ lobe }: ValveTruth, fromDeg: number, toDeg: number): boolean {
  const [low, high] = [Math.min(fromDeg, toDeg) - NEAR_NOSE_DEG, Math.max(fromDeg, toDeg) + NEAR_NOSE_DEG];
  const nose = lobe.noseCrankDeg + CYCLE_DEG * Math.ceil((low - lobe.noseCrankDeg) / CYCLE_DEG);
  return nose <= high;
}

/** Rocked both ways under the zero: down for the play, up to see the zero again. */
function checkLash(item: number, { zero }: Measured, worth: number): Check {
  if (zero === null)
    return failed('procedure', worth, { code: 'lash-not-measured', position: item, at: null });
  const ways = new Set(
    zero.entries.flatMap(({ action }) => (action.type === 'rock-rocker' ? [action.way] : [])),
  );
  return ways.size === 2
    ? passed('procedure', worth)
    : failed('procedure', worth, { code: 'rocked-one-way', position: item, at: zero.at });
}

/** Told, and charged nowhere: a wrong verdict that the lobe's lift would call for, held against the valve's limits. */
function checkComparison(bench: ValveBench, valve: ValveItem): Check[] {
  const { item, written, lengths } = valve;
  const right = verdictOn(bench, valve, lengths.retainer);
  const fromLobe = verdictOn(bench, valve, lengths.pushrod);
  if (written.verdict === null || right === null || written.verdict === right) return [];
  if (written.verdict !== fromLobe) return [];
  return [failed('verdict', 0, { code: 'lobe-against-valve-limits', position: item, at: null })];
}
