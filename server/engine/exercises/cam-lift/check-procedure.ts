import { type Check, failed, passed } from '../../grading/tally.ts';
import type { CamLiftBench } from './bench.ts';
import type { Run } from './history.ts';
import { isFilled, type LobeEvidence, type MatchedReading } from './match-readings.ts';
import type { Pass } from './passes.ts';

/** Shares of a lobe's procedure points. Common practice, no source. */
const WORTH = { wholeCycle: 8 / 20, twoReadings: 4 / 20, forward: 4 / 20, returned: 4 / 20 };

const CYCLE_DEG = 720;
const BASE_SEEN_DEG = 60;
const PLAY_TAKEN_UP_DEG = 30;

/** How a lobe was measured, check by check; `points` are those of the criterion for this lobe. */
export function checkProcedure(bench: CamLiftBench, evidence: LobeEvidence, points: number): Check[] {
  const { position, readings, run, passes } = evidence;
  const filled = readings.filter(isFilled);
  const matched = [...new Set(filled.flatMap(({ pass }) => pass ?? []))];
  // Barred over and nothing written: then the barring is all there is to go by.
  const used = filled.length > 0 ? matched : passes;
  if (run === null || used.length === 0) {
    const code = run === null ? 'not-barred' : 'lobe-never-came-up';
    return [failed('procedure', points, { code, position, at: run?.at ?? null })];
  }
  return [
    checkWholeCycle(bench, evidence, used, points * WORTH.wholeCycle),
    checkTwoReadings(bench, evidence, used, points * WORTH.twoReadings),
    checkForward(used, points * WORTH.forward),
    ...checkReturns(bench, evidence, filled, points * WORTH.returned),
  ];
}

/** The return of each reading that was taken; one that was not has been charged already, and nobody asks for its return. */
function checkReturns(
  bench: CamLiftBench,
  evidence: LobeEvidence,
  filled: readonly MatchedReading[],
  worth: number,
): Check[] {
  const { position, run } = evidence;
  if (filled.length === 0) {
    return [failed('procedure', worth, { code: 'return-not-written', position, at: run?.at ?? null })];
  }
  return filled.map((reading) => checkReturn(bench, evidence, reading, worth / filled.length));
}

/** Two turns of the crank; or, unless the sheet asks for them, the lobe seen up, down and back to 60° of base circle twice. */
function checkWholeCycle(
  bench: CamLiftBench,
  { position }: LobeEvidence,
  used: readonly Pass[],
  worth: number,
): Check {
  const barredDeg = Math.max(...used.map(({ run, zeroing }) => forwardSince(run, zeroing.index)));
  const seenWhole = used.filter((pass) => pass.reachedNose && pass.baseAfterDeg >= BASE_SEEN_DEG);
  const met = barredDeg >= CYCLE_DEG - 1 || (!bench.fullCycle && seenWhole.length >= 2);
  if (met) return passed('procedure', worth);
  const at = used.at(-1)?.zeroing.at ?? null;
  const remark = { code: 'not-two-turns', position, at, values: { barredDeg: Math.round(barredDeg) } };
  return failed('procedure', worth, remark, seenWhole.length > 0 ? 0.5 : 0);
}

/** Degrees barred from a zero to the end of the run, forward less backward. */
function forwardSince(run: Run, index: number): number {
  return (run.points.at(-1)?.crankDeg ?? 0) - (run.points[index]?.crankDeg ?? 0);
}

function checkTwoReadings(
  bench: CamLiftBench,
  evidence: LobeEvidence,
  used: readonly Pass[],
  worth: number,
): Check {
  const { position, readings } = evidence;
  const written = readings.filter(isFilled);
  const at = used.at(-1)?.run.at ?? null;
  if (written.length < 2)
    return failed('procedure', worth, {
      code: 'one-reading',
      position,
      at,
      values: { readings: written.length },
    });
  if (used.length < 2) return failed('procedure', worth, { code: 'one-pass-for-two-readings', position, at });
  const [first, second] = written.map(({ writtenGraduations }) => writtenGraduations);
  const apart = Math.abs((first ?? 0) - (second ?? 0));
  const agreeWithin =
    bench.dial.unit === 'in' ? 0.001 / bench.dial.graduation : 0.025 / bench.dial.graduation;
  // Two readings that do not agree call for a third look; the gauge itself may have shown them so.
  if (apart <= agreeWithin + 1e-6 || evidence.passes.length > 2) return passed('procedure', worth);
  const shownApart = Math.abs((used[0]?.keyHigh ?? 0) - (used[1]?.keyHigh ?? 0));
  if (shownApart <= agreeWithin) return passed('procedure', worth);
  return failed(
    'procedure',
    worth,
    { code: 'readings-disagree', position, at, values: { apartGraduations: Math.round(apart) } },
    0.5,
  );
}

/** Backing up is made good by going back at least 30° and coming forward again, so that the play is taken up the same way. */
function checkForward(used: readonly Pass[], worth: number): Check {
  for (const { run, zeroing, to } of used) {
    const lastAt = run.points[to]?.at ?? Number.POSITIVE_INFINITY;
    let backDeg = 0;
    let since = zeroing.at;
    for (const { at, action } of run.entries) {
      if (at <= zeroing.at || at > lastAt || action.type !== 'bar' || action.degrees === 0) continue;
      if (action.degrees < 0) {
        if (backDeg === 0) since = at;
        backDeg -= action.degrees;
      } else {
        if (backDeg > 0 && backDeg < PLAY_TAKEN_UP_DEG) return backedUp(run, since, backDeg, worth);
        backDeg = 0;
      }
    }
    if (backDeg > 0 && backDeg < PLAY_TAKEN_UP_DEG) return backedUp(run, since, backDeg, worth);
  }
  return passed('procedure', worth);
}

function backedUp(run: Run, at: number, degrees: number, worth: number): Check {
  return failed('procedure', worth, {
    code: 'backed-up',
    position: run.position,
    at,
    values: { degrees: Math.round(degrees) },
  });
}

/** The return is written, it is what the gauge showed, and a zero that did not come back was not left at that. */
function checkReturn(
  bench: CamLiftBench,
  evidence: LobeEvidence,
  reading: MatchedReading,
  worth: number,
): Check {
  const { position } = evidence;
  const { pass, written, number } = reading;
  const fail = (code: string, values: Record<string, number> = {}) =>
    failed('procedure', worth, {
      code,
      position,
      reading: number,
      at: pass?.run.points[pass.to]?.at ?? null,
      values,
    });
  if (pass === null || pass.returned === null) return fail('return-not-seen');
  if (written.returned === null) return fail('return-not-written');
  const { low, high } = pass.returned;
  const writtenGraduations = written.returned / bench.dial.graduation;
  const off = Math.max(low - writtenGraduations, writtenGraduations - high, 0);
  const shown = Math.abs(low) <= Math.abs(high) ? low : high;
  if (off > 1 + 1e-6) return fail('return-misread', { shownGraduations: Math.round(shown * 10) / 10 });
  const stillOff = Math.max(low, -high, 0);
  const doneAgain = evidence.passes.some((other) => other.zeroing.at > pass.zeroing.at);
  // What reads one graduation is noted and left; only two or more call for a new zero.
  if (Math.round(stillOff) > 1 && !doneAgain)
    return fail('zero-not-back', { shownGraduations: Math.round(shown * 10) / 10 });
  return passed('procedure', worth);
}
