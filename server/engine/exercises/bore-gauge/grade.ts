import { graduationMm } from '../../bench-parts/gauge.ts';
import { gradeItems } from '../../bench-parts/grade.ts';
import { foldLog, runsOf, zeroedIn } from '../../bench-parts/log.ts';
import { checkGaugeSetUp } from '../../bench-parts/set-up-checks.ts';
import { stepGauged } from '../../bench-parts/step.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade } from '../../grading/types.ts';
import { evidenceOf, ITEM, type Line, linesOf } from './evidence.ts';
import { slantedSpan, warmthMm } from './geometry.ts';
import type { BoreAction, BoreBench, BoreSheet } from './types.ts';
import { type BoreZero, placesOf, type Visit, visitsUnder } from './visits.ts';
import { boreWork, startBore } from './work.ts';

/** Shares of the set-up points that are this kind's own, 17 of 30, and of the procedure points. Common practice, no source. */
const SET_UP = { zero: 9 / 30, tried: 4 / 30, temperature: 4 / 30 };
const WORTH = { places: 8 / 20, rocked: 6 / 20, depth: 3 / 20, returned: 3 / 20 };
const PLACES = 6;

/** Grades a bore-gauge attempt: a pure function of bench, actions and written sheet. */
export function gradeBore(bench: BoreBench, actions: readonly BoreAction[], sheet: BoreSheet): Grade {
  const entries = foldLog(startBore(bench), actions, (state, action: BoreAction) =>
    stepGauged(boreWork, bench, state, action),
  );
  const runs = runsOf(entries);
  const zeros = runs.flatMap(zeroedIn);
  const used = zeroFor(bench, sheet, zeros);
  const run = used?.run ?? runs.at(-1) ?? null;
  const zeroed = used ?? (run === null ? null : (zeroedIn(run).at(-1) ?? null));
  const visits = used === null ? [] : visitsUnder(used);
  const lines = linesOf(bench, sheet, placesOf(bench, visits));
  const checks = [
    ...checkGaugeSetUp(
      boreWork,
      bench,
      { item: ITEM, run, zeroed, movementGraduations: 0 },
      FULL_POINTS.setUp,
    ),
    ...checkZero(bench, zeroed, FULL_POINTS.setUp),
    ...checkProcedure(bench, used, lines, visits, FULL_POINTS.procedure),
  ];
  return gradeItems(bench, runs, [evidenceOf(bench, sheet, zeros, used, lines)], checks, () => ITEM);
}

/** The zero under which most of what is written was shown, to two graduations; of those alike the last with places measured. */
function zeroFor(bench: BoreBench, sheet: BoreSheet, zeros: readonly BoreZero[]): BoreZero | null {
  let best: { zero: BoreZero; score: number } | null = null;
  for (const zero of zeros) {
    const places = placesOf(bench, visitsUnder(zero));
    if (places.length === 0) continue;
    const lines = linesOf(bench, sheet, places);
    const isShown = ({ reading, visit }: Line) =>
      reading !== null && visit !== null && Math.abs(reading - visit.shown) <= 2;
    const score = lines.filter(isShown).length;
    if (best === null || score >= best.score) best = { zero, score };
  }
  return best?.zero ?? null;
}

function checkZero(bench: BoreBench, zero: BoreZero | null, points: number): Check[] {
  const fail = (worth: number, code: string, values = {}) =>
    failed('setUp', points * worth, { code, position: ITEM, at: zero?.at ?? null, values });
  if (zero === null) return [fail(SET_UP.zero + SET_UP.tried + SET_UP.temperature, 'never-zeroed')];
  const temperature = checkTemperature(bench, zero, points * SET_UP.temperature);
  if (zero.state.spot?.in !== 'ring')
    return [temperature, fail(SET_UP.zero + SET_UP.tried, 'zero-off-the-ring')];
  const offMm = slantedSpan(bench.ringMm, zero.state.tiltDeg) - bench.ringMm;
  const offGraduations = Math.round((10 * offMm) / graduationMm(bench)) / 10;
  return [
    temperature,
    offGraduations <= 0.5
      ? passed('setUp', points * SET_UP.zero)
      : fail(SET_UP.zero, 'zero-off-the-turn', { offGraduations }),
    (visitsUnder(zero)[0]?.passes ?? 0) >= 2
      ? passed('setUp', points * SET_UP.tried)
      : fail(SET_UP.tried, 'zero-not-tried'),
  ];
}

/** Points are lost only where the block was warm as it was measured. */
function checkTemperature(bench: BoreBench, zero: BoreZero, worth: number): Check {
  const warm = zero.entries.find(({ action, before }) => action.type === 'put' && !before.cooled);
  if (warm === undefined) return passed('setUp', worth);
  const offGraduations = Math.round((10 * warmthMm(bench)) / graduationMm(bench)) / 10;
  const values = { offGraduations };
  return failed('setUp', worth, { code: 'block-still-warm', position: ITEM, at: warm.at, values });
}

function checkProcedure(
  bench: BoreBench,
  zero: BoreZero | null,
  lines: readonly Line[],
  visits: readonly Visit[],
  points: number,
): Check[] {
  if (zero === null) return [failed('procedure', points, { code: 'never-moved', position: ITEM, at: null })];
  const fail = (worth: number, code: string, at: number, values = {}, met = 0) =>
    failed('procedure', points * worth, { code, position: ITEM, at, values }, met);
  const places = lines.flatMap(({ visit }) => visit ?? []);
  const slanted = places.filter(({ turned }) => !turned);
  const loose = places.find(({ reached }) => !reached);
  const lastAt = Math.max(...places.map(({ at }) => at));
  const back = visits.some(({ at, spot, turned }) => at > lastAt && spot.in === 'ring' && turned);
  return [
    places.length === PLACES
      ? passed('procedure', points * WORTH.places)
      : fail(
          WORTH.places,
          'places-left-out',
          zero.at,
          { measured: places.length, wanted: PLACES },
          places.length >= 4 ? 0.5 : 0,
        ),
    loose !== undefined
      ? fail(WORTH.rocked, 'contacts-out-of-reach', loose.at)
      : slanted[0] === undefined
        ? passed('procedure', points * WORTH.rocked)
        : fail(WORTH.rocked, 'not-rocked', slanted[0].at, { places: slanted.length }),
    checkDepths(bench, lines, points * WORTH.depth),
    back
      ? passed('procedure', points * WORTH.returned)
      : fail(WORTH.returned, 'ring-not-seen-again', zero.at),
  ];
}

/** On the ridge above the travel of the rings, or below it, nothing has worn: it looks like a good bore. */
function checkDepths(bench: BoreBench, lines: readonly Line[], worth: number): Check {
  const off = lines.flatMap(({ visit }) => (visit === null || visit.onIt ? [] : visit));
  const [first] = off;
  if (first === undefined) return passed('procedure', worth);
  const { depthMm, level } = first;
  const { fromMm, toMm } = bench.travel;
  const where = depthMm < fromMm ? 'above' : depthMm > toMm ? 'below' : 'between';
  const values = { depthMm: Math.round(depthMm), level, where };
  return failed('procedure', worth, { code: 'off-the-level', position: ITEM, at: first.at, values });
}
