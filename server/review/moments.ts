import type { ReplayFrame } from '../../views/client/models/replay.ts';
import type { Grade, TraceRun } from '../engine/index.ts';
import type { LogLine } from './log-lines.ts';
import { frameOf } from './replay-frames.ts';
import type { MomentAt } from './views.ts';

/** Finds the line of the log and the frame of the replay that an action belongs to. */
export function momentsIn(
  log: readonly (LogLine & { readonly id: string })[],
  frames: readonly ReplayFrame[],
): MomentAt {
  return (at, which) => {
    if (at === null) return null;
    const line = log.find(({ from, to }) => from <= at && at <= to);
    return line === undefined ? null : { line: line.id, frame: frameOf(frames, at, which) };
  };
}

/** Where the replay opens: at what went wrong first, otherwise at the first high reading, or at the first zero. */
export function tellingAction(
  grade: Pick<Grade, 'mistakes' | 'remarks'>,
  trace: readonly TraceRun[],
): number | null {
  const wrong = grade.mistakes.find(({ at }) => at !== null);
  return (
    wrong?.at ??
    highIn(trace) ??
    grade.remarks.find(({ at }) => at !== null)?.at ??
    trace.flatMap(({ marks }) => marks).find(({ what }) => what === 'zero')?.at ??
    null
  );
}

/** The action that brought a lobe to its first high reading; of any lobe when no position is given. */
export function highIn(trace: readonly TraceRun[], position?: number): number | null {
  const runs = position === undefined ? trace : trace.filter((run) => run.position === position);
  return runs.flatMap(({ marks }) => marks).find(({ what }) => what === 'high')?.at ?? null;
}
