import type { TraceMark, TraceRun } from '../../grading/types.ts';
import type { CamLiftBench } from './bench.ts';
import type { Run } from './history.ts';
import type { Pass } from './passes.ts';
import type { Moment } from './perceive.ts';

/**
 * The replay of the set-ups: the gauge's travel against barred crank, thinned to what a plot or a scrubbed dial can show,
 * every mark kept. Travel in the dial's unit, counted from the zero in force at each point.
 */
export function traceOf(bench: CamLiftBench, runs: readonly Run[], passes: readonly Pass[]): TraceRun[] {
  return runs.map((run) =>
    traceRun(
      bench,
      run,
      passes.filter((pass) => pass.run === run),
    ),
  );
}

function traceRun(bench: CamLiftBench, run: Run, passes: readonly Pass[]): TraceRun {
  const marks = marksOf(run, passes);
  const marked = new Set(marks.map(({ index }) => index));
  const points: Moment[] = [];
  const places = new Map<number, number>();
  for (let index = 0; index < run.points.length; index += 1) {
    const point = run.points[index];
    if (point === undefined) continue;
    const before = points.at(-1);
    const atAnEnd = before?.at !== point.at || run.points[index + 1] === undefined;
    if (!atAnEnd && !marked.has(index) && !hasMoved(before, point)) continue;
    places.set(index, points.length);
    points.push(point);
  }
  const travel = (graduations: number) => Math.round(graduations * bench.dial.graduation * 1e6) / 1e6;
  return {
    position: run.position,
    setUp: run.setUp,
    crankDeg: points.map(({ crankDeg }) => Math.round(crankDeg * 10) / 10),
    travel: points.map(({ graduations }) => travel(graduations)),
    at: points.map(({ at }) => at),
    marks: marks.flatMap(({ what, index }) => {
      const point = run.points[index];
      const place = places.get(index);
      if (point === undefined || place === undefined) return [];
      return [
        {
          what,
          index: place,
          crankDeg: Math.round(point.crankDeg * 10) / 10,
          travel: travel(point.graduations),
          at: point.at,
        },
      ];
    }),
  };
}

/** Enough to be seen in a plot: a graduation of the pointer or four degrees of crank. */
function hasMoved(before: Moment, point: Moment): boolean {
  return (
    Math.abs(point.graduations - before.graduations) >= 1 || Math.abs(point.crankDeg - before.crankDeg) >= 4
  );
}

function marksOf(run: Run, passes: readonly Pass[]): Pick<TraceMark, 'what' | 'index'>[] {
  const zeros = run.zeroings.map(({ index }) => ({ what: 'zero' as const, index }));
  const highs = passes.map((pass) => ({
    what: pass.reachedNose ? ('high' as const) : ('missed-high' as const),
    index: pass.highIndex,
  }));
  const returns = passes.flatMap((pass) => {
    const index = backAtZero(run, pass);
    return pass.returned === null || index === null ? [] : [{ what: 'return' as const, index }];
  });
  const seenNotes = new Set<number>();
  const notes = run.notes.flatMap(({ index, box }) => {
    if (!['pointer', 'lift'].includes(box) || seenNotes.has(index)) return [];
    seenNotes.add(index);
    return [{ what: 'note' as const, index }];
  });
  const lasts = new Map(run.points.map((point, index) => [point.at, index]));
  const last = (at: number) => lasts.get(at) ?? 0;
  const events = run.entries.flatMap(({ at, action, step }): Pick<TraceMark, 'what' | 'index'>[] => {
    if (step.said.some(({ code }) => code === 'pointer-drops')) return [{ what: 'press', index: last(at) }];
    return action.type === 'bar' && step.said.some(({ code }) => code === 'rolled-back')
      ? [{ what: 'rolled-back', index: last(at) }]
      : [];
  });
  return [...zeros, ...highs, ...returns, ...notes, ...events].sort((a, b) => a.index - b.index);
}

/** First point after a pass at which the cam is back where it was zeroed; null when it did not come back. */
function backAtZero(run: Run, pass: Pass): number | null {
  const zeroMm = run.points[pass.zeroing.index]?.camMm ?? 0;
  for (let index = pass.to + 1; index < run.points.length; index += 1) {
    if ((run.points[index]?.camMm ?? Number.POSITIVE_INFINITY) <= zeroMm + 0.02) return index;
  }
  return null;
}
