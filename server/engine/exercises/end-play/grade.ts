import { graduationMm } from '../../bench-parts/gauge.ts';
import { gradeItems, type ItemEvidence, type Result } from '../../bench-parts/grade.ts';
import { verdictIn } from '../../bench-parts/limits.ts';
import { foldLog, restOf, runsOf, spanOf, type Zeroed, zeroedIn } from '../../bench-parts/log.ts';
import { SIGN_TURNED, USUAL_MISREADINGS } from '../../bench-parts/name-together.ts';
import { usualMisreadings } from '../../bench-parts/result-checks.ts';
import { checkGaugeSetUp, OWN_SET_UP } from '../../bench-parts/set-up-checks.ts';
import { stepGauged } from '../../bench-parts/step.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade } from '../../grading/types.ts';
import type { EndPlayAction, EndPlayBench, EndPlaySheet, EndPlayState } from './types.ts';
import { endPlayWork, startEndPlay } from './work.ts';

type Zero = Zeroed<EndPlayState, EndPlayAction>;

/** Shares of the procedure points. Common practice, no source. */
const WORTH = { fully: 8 / 20, bothWays: 4 / 20, twice: 4 / 20, returned: 4 / 20 };
const ITEM = 1;

/** Grades an end-play attempt: a pure function of bench, actions and written sheet. */
export function gradeEndPlay(
  bench: EndPlayBench,
  actions: readonly EndPlayAction[],
  sheet: EndPlaySheet,
): Grade {
  const entries = foldLog(startEndPlay(bench), actions, (state, action: EndPlayAction) =>
    stepGauged(endPlayWork, bench, state, action),
  );
  const runs = runsOf(entries);
  const measured = runs.flatMap(zeroedIn).filter((zero) => priesIn(zero).length > 0);
  const used = closest(measured, toGraduations(bench, sheet.endPlay ?? sheet.readings[0] ?? null));
  const run = used?.run ?? runs.at(-1) ?? null;
  const zeroed = used ?? (run === null ? undefined : zeroedIn(run).at(-1)) ?? null;
  const evidence = evidenceOf(bench, sheet, measured, used, run);
  const movementGraduations = used === null ? 0 : movementOf(used);
  const checks = [
    ...checkGaugeSetUp(
      endPlayWork,
      bench,
      { item: ITEM, run, zeroed, movementGraduations },
      FULL_POINTS.setUp,
    ),
    checkZero(bench, zeroed, FULL_POINTS.setUp * OWN_SET_UP),
    ...checkProcedure(bench, used, sheet),
  ];
  return gradeItems(bench, runs, [evidence], checks, () => ITEM);
}

function toGraduations({ dial }: EndPlayBench, length: number | null): number | null {
  return length === null ? null : length / dial.graduation;
}

/** The times it was pried under a zero. */
function priesIn(zero: Zero) {
  return zero.entries.flatMap((entry) =>
    entry.action.type === 'pry' ? [{ entry, way: entry.action.way }] : [],
  );
}

/** The movement a zero showed: largest less smallest rest of the pointer, the zero itself among them. In graduations. */
function movementOf(zero: Zero): number {
  return spanOf([0, ...priesIn(zero).flatMap(({ entry }) => restOf(entry)?.graduations ?? [])]) ?? 0;
}

/** The zero whose movement was written, to two graduations; else the last. */
function closest(zeros: readonly Zero[], written: number | null): Zero | null {
  const near = zeros.filter(
    (zero) => written !== null && Math.abs(movementOf(zero) - Math.abs(written)) <= 2,
  );
  return near.at(-1) ?? zeros.at(-1) ?? null;
}

function evidenceOf(
  bench: EndPlayBench,
  sheet: EndPlaySheet,
  measured: readonly Zero[],
  used: Zero | null,
  run: Zero['run'] | null,
): ItemEvidence<EndPlayState, EndPlayAction> {
  const shown = used === null ? null : movementOf(used);
  const readings = [0, 1].map((index) => toGraduations(bench, sheet.readings[index] ?? null));
  const endPlay = toGraduations(bench, sheet.endPlay);
  const both = readings.filter((one) => one !== null);
  const mean = both.length === 0 ? shown : both.reduce((sum, one) => sum + one, 0) / both.length;
  const verdictOf = (graduations: number | null) =>
    graduations === null
      ? null
      : verdictIn(bench.specification, Math.abs(graduations) * bench.dial.graduation, bench.dial);
  const results: Result[] = [
    ...readings.map((written, index): Result => {
      const own = closest(measured, written);
      const shownHere = own === null ? null : movementOf(own);
      return {
        name: `reading-${index + 1}`,
        written,
        shown: shownHere,
        share: 0.3,
        from: 'gauge',
        misread: [SIGN_TURNED, ...USUAL_MISREADINGS],
      };
    }),
    {
      name: 'end-play',
      written: endPlay,
      shown: mean,
      share: 0.4,
      from: 'written',
      likely: mistakesFor(mean ?? 0),
    },
  ];
  const trueGraduations = bench.floatMm / graduationMm(bench);
  return {
    item: ITEM,
    run,
    results,
    written: { verdict: sheet.verdict, next: sheet.next },
    fromWritten: verdictOf(endPlay),
    fromShown: verdictOf(shown === null ? null : Math.round(shown)),
    truly: bench.truly,
    setUpsAgree: setUpsAgree(bench, measured),
    truth: { 'end-play': trueGraduations },
  };
}

/** Two set-ups agree within 0.001 in. Common practice, no source. */
function setUpsAgree(bench: EndPlayBench, measured: readonly Zero[]): boolean {
  const within = 0.0254 / graduationMm(bench) + 1e-6;
  return measured.some((a) =>
    measured.some((b) => a.run.setUp < b.run.setUp && Math.abs(movementOf(a) - movementOf(b)) <= within),
  );
}

function mistakesFor(shown: number) {
  return [{ mistake: 'sign-turned', graduations: -shown }, ...usualMisreadings(shown)];
}

/** Zero is taken with the shaft hard against one stop; elsewhere a part of the movement is lost, unless both ways are pried after it. */
function checkZero(bench: EndPlayBench, zero: Zero | null, worth: number): Check {
  if (zero === null) return failed('setUp', worth, { code: 'never-zeroed', position: ITEM, at: null });
  const { axialMm } = zero.state;
  const hair = 0.5 * graduationMm(bench);
  const atStop = axialMm <= hair || axialMm >= bench.floatMm - hair;
  const ways = new Set(priesIn(zero).map(({ way }) => way));
  if (atStop || ways.size === 2) return passed('setUp', worth);
  const offGraduations =
    Math.round((10 * Math.min(axialMm, bench.floatMm - axialMm)) / graduationMm(bench)) / 10;
  return failed('setUp', worth, {
    code: 'zero-off-the-stop',
    position: ITEM,
    at: zero.at,
    values: { offGraduations },
  });
}

function checkProcedure(bench: EndPlayBench, zero: Zero | null, sheet: EndPlaySheet): Check[] {
  const points = FULL_POINTS.procedure;
  if (zero === null) return [failed('procedure', points, { code: 'never-moved', position: ITEM, at: null })];
  const pries = priesIn(zero);
  const fail = (worth: number, code: string, at: number, values = {}, met = 0) =>
    failed('procedure', points * worth, { code, position: ITEM, at, values }, met);
  const springy = pries.find(({ entry }) => entry.step.said.some(({ code }) => code === 'springy-stop'));
  const startsFront = zero.state.axialMm > bench.floatMm / 2;
  const outward = pries.filter(({ way }) => way === (startsFront ? 'rear' : 'front'));
  const back = pries.filter(({ way }) => way === (startsFront ? 'front' : 'rear'));
  const first = outward[0]?.entry.at ?? Number.POSITIVE_INFINITY;
  return [
    springy === undefined
      ? passed('procedure', points * WORTH.fully)
      : fail(
          WORTH.fully,
          bench.subject === 'wheel-bearing' ? 'hub-not-seated' : 'not-pried-fully',
          springy.entry.at,
        ),
    outward.length > 0
      ? passed('procedure', points * WORTH.bothWays)
      : fail(WORTH.bothWays, 'one-way-only', zero.at),
    outward.length >= 2 && sheet.readings.filter((one) => one !== null).length >= 2
      ? passed('procedure', points * WORTH.twice)
      : fail(WORTH.twice, 'read-only-once', zero.at),
    back.some(({ entry }) => entry.at > first)
      ? passed('procedure', points * WORTH.returned)
      : fail(WORTH.returned, 'zero-not-seen-again', zero.at),
  ];
}
