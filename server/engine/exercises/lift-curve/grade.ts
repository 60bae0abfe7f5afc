import { graduationMm } from '../../bench-parts/gauge.ts';
import { gradeItems, type ItemEvidence } from '../../bench-parts/grade.ts';
import { foldLog, type GaugeRun, runsOf, zeroedIn } from '../../bench-parts/log.ts';
import { checkGaugeSetUp } from '../../bench-parts/set-up-checks.ts';
import { stepGauged } from '../../bench-parts/step.ts';
import { graduationsPerTurn } from '../../dial/dial.ts';
import { type Check, failed } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade, type NamedMistake, type Stop } from '../../grading/types.ts';
import { convertLength, toMm } from '../../units.ts';
import { figuresOf } from './check-figures.ts';
import { checkOwnSetUp, checkProcedure } from './check-procedure.ts';
import { checkTable } from './check-table.ts';
import { trueFigures } from './generate.ts';
import { type MatchedPoint, matchPoints, offOf, type Rest, restsUnder, type Zero } from './match-points.ts';
import { type CurveTable, eventOf, type TablePoint, tableOf } from './table.ts';
import type {
  LiftCurveAction,
  LiftCurveBench,
  LiftCurveSheet,
  LiftCurveState,
  LiftCurveVerdict,
} from './types.ts';
import { judgeLiftCurve } from './verdict.ts';
import { liftCurveWork, startLiftCurve } from './work.ts';

type Run = GaugeRun<LiftCurveState, LiftCurveAction>;

/** What was stopped at and written under one zero. */
interface Evidence {
  readonly zero: Zero;
  readonly rests: readonly Rest[];
  readonly points: readonly MatchedPoint[];
}

/** Points of the table itself, of the reading's thirty; the figures have the rest. */
const TABLE_POINTS = FULL_POINTS.reading / 2;

/** Grades a lift curve: a pure function of bench, actions and written sheet. */
export function gradeLiftCurve(
  bench: LiftCurveBench,
  actions: readonly LiftCurveAction[],
  sheet: LiftCurveSheet,
): Grade {
  const entries = foldLog(startLiftCurve(bench), actions, (state, action: LiftCurveAction) =>
    stepGauged(liftCurveWork, bench, state, action),
  );
  const runs = runsOf(entries);
  const lines = linesOf(bench, sheet);
  const all = runs
    .flatMap(zeroedIn)
    .map((zero): Evidence => {
      const rests = restsUnder(bench, zero);
      return { zero, rests, points: matchPoints(lines, rests) };
    })
    .filter(({ rests }) => rests.length > 0);
  const used = all.reduce<Evidence | null>(
    (best, one) => (best === null || agreement(one) >= agreement(best) ? one : best),
    null,
  );
  const run = used?.zero.run ?? runs.at(-1) ?? null;
  const zeroed = used?.zero ?? (run === null ? null : (zeroedIn(run).at(-1) ?? null));
  const table = tableOf(lines, 1);
  const { checking, dial } = bench;
  const height = convertLength(checking.lift, checking.unit, dial.unit) / dial.graduation;
  const procedure = checkProcedure(zeroed, used?.rests ?? [], used?.points ?? [], table, height);
  const reading = checkReading(bench, sheet, used, lines.length);
  const movementGraduations = highestIn(used);
  const graded = gradeItems(
    bench,
    runs,
    [evidenceOf(bench, sheet, all, used, run, table, height)],
    [
      ...checkGaugeSetUp(
        liftCurveWork,
        bench,
        { item: 1, run, zeroed, movementGraduations },
        FULL_POINTS.setUp,
      ),
      ...checkOwnSetUp(bench, zeroed, run?.at ?? null),
      ...procedure.checks,
      ...reading.checks,
    ],
    () => 1,
  );
  return {
    ...graded,
    stops: [...reading.stops, ...graded.stops],
    mistakes: [...reading.mistakes, ...procedure.mistakes, ...graded.mistakes],
  };
}

/** The table's whole lines, lifts in graduations. */
function linesOf({ dial }: LiftCurveBench, { points }: LiftCurveSheet): TablePoint[] {
  return points.flatMap(({ crankDeg, lift }) =>
    crankDeg === null || lift === null ? [] : [{ crankDeg, lift: lift / dial.graduation }],
  );
}

/** How many lines fit what was shown, and failing that how many places were stopped at. */
function agreement({ points, rests }: Evidence): number {
  return points.filter((point) => Math.abs(offOf(point) ?? 9) <= 2).length + rests.length / 1000;
}

function highestIn(evidence: Evidence | null): number {
  return Math.max(0, ...(evidence?.rests ?? []).map(({ shown }) => shown));
}

interface Reading {
  readonly checks: readonly Check[];
  readonly stops: readonly Stop[];
  readonly mistakes: readonly NamedMistake[];
}

/** The table; and a sheet that was filled in without measuring, which is a stop and costs the whole criterion. */
function checkReading(
  bench: LiftCurveBench,
  sheet: LiftCurveSheet,
  used: Evidence | null,
  lines: number,
): Reading {
  if (used !== null) return checkTable(used.points, used.rests, TABLE_POINTS, graduationsPerTurn(bench.dial));
  const { highPointDeg, opensDeg, closesDeg, widthDeg, centreDeg, maximumLift } = sheet;
  const figures = [highPointDeg, opensDeg, closesDeg, widthDeg, centreDeg, maximumLift];
  const isFilled = lines > 0 || figures.some((one) => one !== null);
  const about = { position: 1, at: null };
  if (!isFilled)
    return {
      checks: [failed('reading', FULL_POINTS.reading, { code: 'table-blank', ...about })],
      stops: [],
      mistakes: [],
    };
  return {
    checks: [failed('reading', FULL_POINTS.reading, { code: 'result-without-measurement', ...about })],
    stops: [{ code: 'reading-without-measurement', ...about, values: { barred: false } }],
    mistakes: [{ ...about, reading: null, how: 'one', mistakes: ['nothing-measured'], offGraduations: null }],
  };
}

function evidenceOf(
  bench: LiftCurveBench,
  sheet: LiftCurveSheet,
  all: readonly Evidence[],
  used: Evidence | null,
  run: Run | null,
  table: CurveTable | null,
  height: number,
): ItemEvidence<LiftCurveState, LiftCurveAction> {
  const { dial, limits, lobe, checking } = bench;
  const { widthDeg, centreDeg, maximumLift } = sheet;
  // Turned wrong about, a line is where the gauge stood when it was written, with what the gauge showed there.
  const seen = (used?.points ?? []).flatMap(({ crankDeg, rest }) =>
    rest === null ? [] : [{ crankDeg, lift: rest.shown }],
  );
  const truth = trueFigures(lobe, toMm(checking.lift, checking.unit), bench);
  return {
    item: 1,
    run,
    results: used === null ? [] : figuresOf(bench, sheet, table, highestIn(used)),
    written: { verdict: sheet.verdict, next: sheet.next },
    fromWritten:
      widthDeg === null || centreDeg === null || maximumLift === null
        ? null
        : judgeLiftCurve({ lift: maximumLift, widthDeg, centreDeg }, limits, dial),
    fromShown: verdictOf(bench, tableOf(seen, 1), height),
    truly: bench.truly,
    setUpsAgree: setUpsAgree(bench, all),
    truth: {
      'maximum-lift': truth.lift / dial.graduation,
      width: truth.widthDeg,
      centre: truth.centreDeg,
    },
  };
}

function verdictOf(
  { limits, dial }: LiftCurveBench,
  table: CurveTable | null,
  height: number,
): LiftCurveVerdict | null {
  const event = table === null ? null : eventOf(table, height);
  if (table === null || event === null) return null;
  const lift = Math.round(table.highest) * dial.graduation;
  return judgeLiftCurve({ lift, widthDeg: event.widthDeg, centreDeg: event.centreDeg }, limits, dial);
}

/** Two set-ups agree within 0.001 in of lift. Common practice, no source. */
function setUpsAgree(bench: LiftCurveBench, all: readonly Evidence[]): boolean {
  const within = 0.0254 / graduationMm(bench) + 1e-6;
  return all.some((a) =>
    all.some((b) => a.zero.run.setUp < b.zero.run.setUp && Math.abs(highestIn(a) - highestIn(b)) <= within),
  );
}
