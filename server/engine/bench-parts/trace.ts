import type { TraceMark, TraceRun } from '../grading/types.ts';
import type { GaugeRun } from './log.ts';
import type { GaugedBench, GaugeMoment, GaugeState } from './types.ts';

/**
 * The replay of the set-ups: the gauge's travel in the dial's unit against degrees the work was turned, thinned to what a plot can
 * show, every zero and note kept. Where nothing turns all degrees are 0 and the action index tells the points apart.
 */
export function traceOf<S extends GaugeState, A>(
  bench: GaugedBench,
  runs: readonly GaugeRun<S, A>[],
  itemOf: (run: GaugeRun<S, A>) => number,
): TraceRun[] {
  return runs.map((run) => {
    const points: GaugeMoment[] = [];
    const marks: TraceMark[] = [];
    const travel = ({ graduations }: GaugeMoment) =>
      Math.round(graduations * bench.dial.graduation * 1e6) / 1e6;
    for (const { at, step } of run.entries) {
      for (const moment of step.moments) {
        const last = points.at(-1);
        if (last === undefined || moment === step.moments.at(-1) || hasMoved(last, moment))
          points.push(moment);
      }
      const here = points.at(-1);
      const what = markFor(step.said.map(({ code }) => code));
      if (here !== undefined && what !== null)
        marks.push({
          what,
          index: points.length - 1,
          crankDeg: tenth(here.turnedDeg),
          travel: travel(here),
          at,
        });
    }
    return {
      position: itemOf(run),
      setUp: run.setUp,
      crankDeg: points.map(({ turnedDeg }) => tenth(turnedDeg)),
      travel: points.map(travel),
      at: points.map(({ at }) => at),
      marks,
    };
  });
}

function markFor(codes: readonly string[]): TraceMark['what'] | null {
  if (codes.includes('bezel-at-zero')) return 'zero';
  return codes.includes('noted') ? 'note' : null;
}

function hasMoved(before: GaugeMoment, now: GaugeMoment): boolean {
  return (
    Math.abs(now.graduations - before.graduations) >= 1 || Math.abs(now.turnedDeg - before.turnedDeg) >= 4
  );
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}
