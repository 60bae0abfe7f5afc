import { graduationMm } from '../../bench-parts/gauge.ts';
import { gradeItems, type ItemEvidence, type Result } from '../../bench-parts/grade.ts';
import {
  foldLog,
  type GaugeEntry,
  restOf,
  runsOf,
  spanOf,
  type Zeroed,
  zeroedIn,
} from '../../bench-parts/log.ts';
import { SIGN_TURNED, USUAL_MISREADINGS } from '../../bench-parts/name-together.ts';
import { checkGaugeSetUp, OWN_SET_UP } from '../../bench-parts/set-up-checks.ts';
import { stepGauged } from '../../bench-parts/step.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade } from '../../grading/types.ts';
import {
  type LinerAction,
  type LinerBench,
  type LinerSheet,
  type LinerState,
  POINTS,
  type WrittenLiner,
} from './types.ts';
import { judgeLiner, judgeStep, largestStep } from './verdict.ts';
import { linerWork, startLiners } from './work.ts';

type Zero = Zeroed<LinerState, LinerAction>;
type Entry = GaugeEntry<LinerState, LinerAction>;

/** Shares of a liner's procedure points. Common practice, no source. */
const WORTH = { pressed: 8 / 20, points: 8 / 20, returned: 4 / 20 };

/** The step between neighbours is an item of its own, after the liners. */
const betweenItem = (bench: LinerBench) => bench.liners.length + 1;

/** What the log and the sheet hold of one liner. */
interface LinerEvidence {
  readonly written: WrittenLiner;
  readonly zero: Zero | null;
  /** Rest of the pointer at each point, in graduations, and the entry it is from; null where the tip never stood there. */
  readonly rests: readonly ({ readonly graduations: number; readonly entry: Entry } | null)[];
  readonly zeros: readonly Zero[];
}

/** Grades a liner-protrusion attempt: a pure function of bench, actions and written sheet. */
export function gradeLiners(bench: LinerBench, actions: readonly LinerAction[], sheet: LinerSheet): Grade {
  const entries = foldLog(startLiners(bench), actions, (state, action: LinerAction) =>
    stepGauged(linerWork, bench, state, action),
  );
  const runs = runsOf(entries);
  const zeros = runs.flatMap(zeroedIn);
  const liners = bench.liners.map((_, index) => evidenceFor(bench, zeros, sheet, index + 1));
  const share = 1 / liners.length;
  const lastRun = runs.at(-1) ?? null;
  const checks = liners.flatMap((one) => {
    const item = one.written.liner;
    const run = one.zero?.run ?? lastRun;
    const zeroed = one.zero ?? (run === null ? null : (zeroedIn(run).at(-1) ?? null));
    const movementGraduations = spanOf([0, ...one.rests.flatMap((rest) => rest?.graduations ?? [])]) ?? 0;
    const setUp = FULL_POINTS.setUp * share;
    return [
      ...checkGaugeSetUp(linerWork, bench, { item, run, zeroed, movementGraduations }, setUp),
      checkZero(item, zeroed, setUp * OWN_SET_UP),
      ...checkProcedure(one, FULL_POINTS.procedure * share),
    ];
  });
  const items = [...liners.map((one) => itemEvidence(bench, one)), betweenEvidence(bench, sheet, liners)];
  return gradeItems(bench, runs, items, checks, (run) => run.entries[0]?.step.state.spot?.liner ?? 0);
}

const BLANK = { points: [], mean: null, within: null, verdict: null, next: null };

/** The last zero under which the tip stood on the liner. */
function evidenceFor(
  bench: LinerBench,
  all: readonly Zero[],
  sheet: LinerSheet,
  liner: number,
): LinerEvidence {
  const written = sheet.liners.find((one) => one.liner === liner) ?? { liner, ...BLANK };
  const zeros = all.filter((zero) => restsUnder(zero, liner).some((rest) => rest !== null));
  const wanted = written.points[0] ?? null;
  const near = zeros.filter((zero) => {
    const first = restsUnder(zero, liner)[0];
    return (
      wanted !== null && first != null && Math.abs(first.graduations - wanted / bench.dial.graduation) <= 2
    );
  });
  const zero = near.at(-1) ?? zeros.at(-1) ?? null;
  const rests = zero === null ? Array.from({ length: POINTS }, () => null) : restsUnder(zero, liner);
  return { written, zero, rests, zeros };
}

function restsUnder({ entries }: Zero, liner: number): LinerEvidence['rests'] {
  return Array.from({ length: POINTS }, (_, index) => {
    const at = entries.filter(({ step: { state } }) => {
      const { spot } = state;
      return spot?.on === 'liner' && spot.liner === liner && spot.point === index + 1;
    });
    // Where it was pressed down while the tip stood on it, the last look counts.
    const entry = at.at(-1);
    const rest = entry === undefined ? undefined : restOf(entry);
    return entry === undefined || rest === undefined ? null : { graduations: rest.graduations, entry };
  });
}

function itemEvidence(bench: LinerBench, one: LinerEvidence): ItemEvidence<LinerState, LinerAction> {
  const { written, rests, zero } = one;
  const inGraduations = (length: number | null | undefined) =>
    length === null || length === undefined ? null : length / bench.dial.graduation;
  const points = rests.map((_, index) => inGraduations(written.points[index]));
  const filled = points.filter((point) => point !== null);
  const shown = rests.flatMap((rest) => rest?.graduations ?? []);
  const verdictOf = (graduations: readonly number[]) =>
    graduations.length === 0
      ? null
      : judgeLiner(
          graduations.map((point) => point * bench.dial.graduation),
          bench.limits,
          bench.dial,
        );
  const truth = bench.liners[written.liner - 1];
  const truePoints = (truth?.pointsMm ?? []).map((pointMm) => pointMm / graduationMm(bench));
  const results: Result[] = [
    ...points.map((point, index): Result => {
      const rest = rests[index]?.graduations ?? null;
      return {
        name: `point-${index + 1}`,
        written: point,
        shown: rest,
        share: 0.7 / POINTS,
        from: 'gauge',
        misread: [SIGN_TURNED, ...USUAL_MISREADINGS],
      };
    }),
    {
      name: 'mean',
      written: inGraduations(written.mean),
      shown: meanOf(filled),
      share: 0.15,
      from: 'written',
    },
    {
      name: 'within',
      written: inGraduations(written.within),
      shown: spanOf(filled),
      share: 0.15,
      from: 'written',
    },
  ];
  return {
    item: written.liner,
    run: zero?.run ?? null,
    results,
    written: { verdict: written.verdict, next: written.next },
    fromWritten: verdictOf(filled),
    fromShown: verdictOf(shown.map((point) => Math.round(point))),
    truly: truth?.truly ?? 'inside',
    setUpsAgree: setUpsAgree(bench, one),
    truth: {
      ...Object.fromEntries(truePoints.map((point, index) => [`point-${index + 1}`, point])),
      mean: meanOf(truePoints) ?? 0,
      within: spanOf(truePoints) ?? 0,
    },
  };
}

function betweenEvidence(
  bench: LinerBench,
  sheet: LinerSheet,
  liners: readonly LinerEvidence[],
): ItemEvidence<LinerState, LinerAction> {
  const { graduation } = bench.dial;
  const means = liners.map(({ written }) => written.mean);
  const filled = means.filter((mean) => mean !== null);
  const step = filled.length === means.length ? largestStep(filled.map((mean) => mean / graduation)) : null;
  const shownMeans = liners.flatMap(
    ({ rests }) => meanOf(rests.flatMap((rest) => rest?.graduations ?? [])) ?? [],
  );
  const shown = shownMeans.length === liners.length ? largestStep(shownMeans) : null;
  const verdictOf = (graduations: number | null) =>
    graduations === null ? null : judgeStep(graduations * graduation, bench.limits, bench.dial);
  const written = sheet.between === null ? null : sheet.between / graduation;
  return {
    item: betweenItem(bench),
    run: liners.at(-1)?.zero?.run ?? null,
    results: [{ name: 'between', written, shown: step, share: 1, from: 'written' }],
    written: { verdict: sheet.betweenVerdict, next: sheet.betweenNext },
    fromWritten: verdictOf(written),
    fromShown: verdictOf(shown),
    truly: bench.betweenTruly,
    setUpsAgree: liners.some((one) => setUpsAgree(bench, one)),
    truth: {
      between:
        largestStep(bench.liners.map(({ pointsMm }) => (meanOf(pointsMm) ?? 0) / graduationMm(bench))) ?? 0,
    },
  };
}

function meanOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((sum, one) => sum + one, 0) / values.length;
}

/** Two set-ups agree on every point both saw, within 0.001 in. Common practice, no source. */
function setUpsAgree(bench: LinerBench, { zeros, written }: LinerEvidence): boolean {
  const within = 0.0254 / graduationMm(bench) + 1e-6;
  const rests = zeros.map((zero) => ({ setUp: zero.run.setUp, points: restsUnder(zero, written.liner) }));
  return rests.some((a) =>
    rests.some(
      (b) =>
        a.setUp < b.setUp &&
        a.points.every((point, index) => {
          const other = b.points[index];
          return point === null || other == null || Math.abs(point.graduations - other.graduations) <= within;
        }),
    ),
  );
}

/** Zero is taken on the deck, beside this liner or another. */
function checkZero(item: number, zero: Zero | null, worth: number): Check {
  if (zero === null) return failed('setUp', worth, { code: 'never-zeroed', position: item, at: null });
  if (zero.state.spot?.on === 'deck') return passed('setUp', worth);
  return failed('setUp', worth, { code: 'zero-off-the-deck', position: item, at: zero.at });
}

function checkProcedure({ written, zero, rests }: LinerEvidence, points: number): Check[] {
  const position = written.liner;
  if (zero === null) return [failed('procedure', points, { code: 'never-moved', position, at: null })];
  const fail = (worth: number, code: string, at: number, values = {}, met = 0) =>
    failed('procedure', points * worth, { code, position, at, values }, met);
  const stood = rests.flatMap((rest) => rest?.entry ?? []);
  const loose = stood.find(({ step }) => !step.state.pressed.includes(position));
  const last = stood.at(-1)?.at ?? zero.at;
  const back = zero.entries.some(({ at, step }) => at > last && step.state.spot?.on === 'deck');
  return [
    loose === undefined
      ? passed('procedure', points * WORTH.pressed)
      : fail(WORTH.pressed, 'liner-not-pressed', loose.at),
    stood.length === POINTS
      ? passed('procedure', points * WORTH.points)
      : fail(
          WORTH.points,
          'points-left-out',
          zero.at,
          { measured: stood.length, wanted: POINTS },
          stood.length > 1 ? 0.5 : 0,
        ),
    back
      ? passed('procedure', points * WORTH.returned)
      : fail(WORTH.returned, 'zero-not-seen-again', zero.at),
  ];
}
