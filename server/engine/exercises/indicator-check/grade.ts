import { gradeItems } from '../../bench-parts/grade.ts';
import { foldLog, runsOf, zeroedIn } from '../../bench-parts/log.ts';
import { checkGaugeSetUp, OWN_SET_UP } from '../../bench-parts/set-up-checks.ts';
import { stepGauged } from '../../bench-parts/step.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade, type NamedMistake } from '../../grading/types.ts';
import { boxesOf, evidenceOf, ITEM, ROWS_SHARE } from './evidence.ts';
import type { IndicatorCheckAction, IndicatorCheckBench, IndicatorCheckSheet } from './types.ts';
import { repeatsIn, shownAt, type Visit, visitsAt, visitsUnder, type Zero } from './visits.ts';
import { indicatorCheckWork, startIndicatorCheck } from './work.ts';

/** Shares of the procedure points. Common practice, no source. */
const WORTH = { up: 4 / 20, insideTurn: 5 / 20, down: 4 / 20, past: 1 / 20, repeats: 3 / 20, wrung: 3 / 20 };
/** JIS B 7503:2017 (as given by a maker's page): three graduations past the last place before coming back. */
const PAST_GRADUATIONS = 3;
const REPEATS = 5;

/** Grades the check of an indicator: a pure function of bench, actions and written sheet. */
export function gradeIndicatorCheck(
  bench: IndicatorCheckBench,
  actions: readonly IndicatorCheckAction[],
  sheet: IndicatorCheckSheet,
): Grade {
  const entries = foldLog(startIndicatorCheck(bench), actions, (state, action: IndicatorCheckAction) =>
    stepGauged(indicatorCheckWork, bench, state, action),
  );
  const runs = runsOf(entries);
  const zeros = runs.flatMap(zeroedIn).filter((zero) => visitsUnder(zero).length > 1);
  const used = writtenUnder(bench, zeros, sheet);
  const run = used?.run ?? runs.at(-1) ?? null;
  const zeroed = used ?? (run === null ? undefined : zeroedIn(run).at(-1)) ?? null;
  const visits = used === null ? [] : visitsUnder(used);
  const movementGraduations = Math.max(0, ...visits.map(({ graduations }) => Math.abs(graduations)));
  const checks = [
    ...checkGaugeSetUp(
      indicatorCheckWork,
      bench,
      { item: ITEM, run, zeroed, movementGraduations },
      FULL_POINTS.setUp,
    ),
    checkZero(zeroed, FULL_POINTS.setUp * OWN_SET_UP),
    ...checkProcedure(bench, used, visits),
    ...checkRows(bench, sheet, used),
  ];
  const evidence = evidenceOf(bench, sheet, zeros, used, run);
  const grade = gradeItems(bench, runs, [evidence], checks, () => ITEM);
  return { ...grade, mistakes: saidOnce(grade.mistakes) };
}

/** The zero under which most of what was written was shown; the later of two alike. */
function writtenUnder(
  bench: IndicatorCheckBench,
  zeros: readonly Zero[],
  sheet: IndicatorCheckSheet,
): Zero | null {
  const matches = (zero: Zero) => {
    const visits = visitsUnder(zero);
    return sheet.points.reduce((sum, { at, up, down }) => {
      const fits = (length: number | null, way: 'up' | 'down') => {
        if (length === null) return 0;
        const shown = shownAt(bench, visits, at, way, length / bench.dial.graduation);
        return shown !== null && Math.abs(shown - length / bench.dial.graduation) <= 0.5 ? 1 : 0;
      };
      return sum + fits(up, 'up') + fits(down, 'down');
    }, 0);
  };
  const counted = zeros.map((zero) => ({ zero, count: matches(zero), visits: visitsUnder(zero).length }));
  const most = Math.max(0, ...counted.map(({ count }) => count));
  const best = counted.filter(({ count }) => count === most);
  const longest = Math.max(0, ...best.map(({ visits }) => visits));
  return best.filter(({ visits }) => visits === longest).at(-1)?.zero ?? null;
}

/** The same mistake in many boxes is one mistake. */
function saidOnce(mistakes: readonly NamedMistake[]): NamedMistake[] {
  const keyOf = ({ how, mistakes: codes }: NamedMistake) => `${how}/${codes.join('/')}`;
  return mistakes.filter(
    (one, index) =>
      one.mistakes.length === 0 || mistakes.findIndex((other) => keyOf(other) === keyOf(one)) === index,
  );
}

function checkZero(zero: Zero | null, worth: number): Check {
  if (zero === null) return failed('setUp', worth, { code: 'never-zeroed', position: ITEM, at: null });
  if (zero.state.travel === 0) return passed('setUp', worth);
  return failed('setUp', worth, { code: 'zero-off-the-zero-block', position: ITEM, at: zero.at });
}

/** Lines of the plan left blank, where something was measured: one remark for all. */
function checkRows(bench: IndicatorCheckBench, sheet: IndicatorCheckSheet, used: Zero | null): Check[] {
  const { wanted, blank, all } = boxesOf(bench, sheet);
  if (blank === 0 || used === null) return [];
  const worth = (FULL_POINTS.reading * ROWS_SHARE * blank) / all;
  const values = { blank, wanted };
  return [failed('reading', worth, { code: 'readings-left-blank', position: ITEM, at: null, values })];
}

function checkProcedure(bench: IndicatorCheckBench, zero: Zero | null, visits: readonly Visit[]): Check[] {
  const points = FULL_POINTS.procedure;
  if (zero === null) return [failed('procedure', points, { code: 'never-moved', position: ITEM, at: null })];
  const { dial, plan } = bench;
  const check = (worth: number, met: number, code: string, values = {}) =>
    met >= 1
      ? passed('procedure', points * worth)
      : failed('procedure', points * worth, { code, position: ITEM, at: zero.at, values }, met);
  const turns = (at: number) => at / dial.rangePerTurn;
  const isWhole = (at: number) => Math.abs(turns(at) - Math.round(turns(at))) < 0.05;
  const seen = (places: readonly number[], way: Visit['way']) =>
    places.filter((at) => visitsAt(bench, visits, at, way).length > 0);
  const whole = plan.filter(isWhole);
  const between = plan.filter((at) => !isWhole(at));
  const [up, inside] = [seen(whole, 'up').length, seen(between, 'up').length];
  const last = plan.at(-1) ?? 0;
  const past = visits.some(({ at }) => at - last >= (PAST_GRADUATIONS - 0.01) * dial.graduation);
  // Down at what was seen up: places left out have been charged going up, and not coming past the last one is charged by itself.
  const back = seen(plan, 'up').filter((at) => past || at !== last);
  const down = seen(back, 'down').length;
  const downWanted = Math.max(1, back.length);
  const repeats = repeatsIn(visits);
  const bothWays = repeats.some(({ fast }) => fast) && repeats.some(({ fast }) => !fast);
  const repeated = Math.min(1, repeats.length / REPEATS) * (bothWays ? 1 : 0.5);
  const dirty = lastVisits(visits).find(({ wrung }) => !wrung);
  return [
    check(WORTH.up, up / whole.length, 'points-up-left-out', { measured: up, wanted: whole.length }),
    check(WORTH.insideTurn, inside / between.length, 'points-inside-a-turn-left-out', {
      measured: inside,
      wanted: between.length,
    }),
    check(WORTH.down, down / downWanted, down <= 1 ? 'one-direction-only' : 'points-down-left-out', {
      measured: down,
      wanted: downWanted,
    }),
    check(WORTH.past, past || down === 0 ? 1 : 0, 'not-past-the-end'),
    check(
      WORTH.repeats,
      repeated,
      repeats.length < REPEATS ? 'not-repeated-five-times' : 'repeated-one-way',
      {
        times: repeats.length,
      },
    ),
    dirty === undefined
      ? passed('procedure', points * WORTH.wrung)
      : failed('procedure', points * WORTH.wrung, {
          code: 'block-not-wrung',
          position: ITEM,
          at: dirty.index,
        }),
  ];
}

/** The last visit of each place and way: what was seen once the block lay right. */
function lastVisits(visits: readonly Visit[]): Visit[] {
  return visits.filter(
    (visit, index) =>
      !visits.slice(index + 1).some((later) => later.at === visit.at && later.way === visit.way),
  );
}
