import type { TraceMark, TraceRun } from '../../grading/types.ts';
import type { DialReadingAction, DialReadingBench, DialReadingState } from './types.ts';
import { type DialReadingStep, startDialReading, stepDialReading } from './work.ts';

/** All that the log holds of one drill; places in the log, null where it never happened. */
export interface DrillLog {
  readonly drill: number;
  /** Where its movement was first watched. */
  readonly watchedAt: number | null;
  /** Where its reading was written for the last time. */
  readonly writtenAt: number | null;
  readonly seen: readonly { readonly at: number; readonly travels: readonly number[] }[];
  readonly notedAt: readonly number[];
}

interface Entry {
  readonly at: number;
  readonly action: DialReadingAction;
  readonly step: DialReadingStep;
}

/** The log by drill. What could not be done is left out. */
export function drillLogs(bench: DialReadingBench, actions: readonly DialReadingAction[]): DrillLog[] {
  let state: DialReadingState = startDialReading(bench);
  const entries: Entry[] = [];
  for (const [at, action] of actions.entries()) {
    const step = stepDialReading(bench, state, action);
    state = step.state;
    if (step.said.every(({ code }) => code !== 'cannot')) entries.push({ at, action, step });
  }
  return bench.drills.map((_, index) => logOf(index + 1, entries));
}

function logOf(drill: number, entries: readonly Entry[]): DrillLog {
  const seen = entries.flatMap(({ at, step }) =>
    step.state.drill === drill && step.travels.length > 0 ? [{ at, travels: step.travels }] : [],
  );
  const notes = entries.flatMap(({ at, action }) =>
    action.type === 'note' && action.item === drill ? [{ at, box: action.box }] : [],
  );
  return {
    drill,
    watchedAt: seen[0]?.at ?? null,
    writtenAt: notes.filter(({ box }) => box === 'reading').at(-1)?.at ?? null,
    seen,
    notedAt: notes.map(({ at }) => at),
  };
}

/** The replay, one run a drill that was watched: nothing turns, so that only the place in the log tells the points apart. */
export function traceOfDrills(logs: readonly DrillLog[]): TraceRun[] {
  return logs.flatMap(({ drill, seen, notedAt }) => {
    if (seen.length === 0) return [];
    const points = seen.flatMap(({ at, travels }) =>
      travels.map((travel) => ({ at, travel: Number(travel.toFixed(6)) })),
    );
    const mark = (what: TraceMark['what'], index: number, at: number): TraceMark => ({
      what,
      index,
      crankDeg: 0,
      travel: points[index]?.travel ?? 0,
      at,
    });
    const before = (at: number) => Math.max(0, points.filter((point) => point.at <= at).length - 1);
    return [
      {
        position: drill,
        setUp: 1,
        crankDeg: points.map(() => 0),
        travel: points.map(({ travel }) => travel),
        at: points.map(({ at }) => at),
        marks: [mark('zero', 0, points[0]?.at ?? 0), ...notedAt.map((at) => mark('note', before(at), at))],
      },
    ];
  });
}
