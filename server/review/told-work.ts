import {
  type AnyAction,
  type AnyBench,
  type AnySeen,
  type AnySheet,
  act,
  type Grade,
  lookAt,
  startBench,
} from '../engine/index.ts';
import { type GradedKind, type GradedParts, gradedKindOf } from './graded-kind.ts';
import { type LogLine, logLines } from './log-lines.ts';
import { momentsIn, tellingAction } from './moments.ts';
import { replayOf } from './replay-frames.ts';
import { type ReplayView, replayView } from './replay-view.ts';
import type { MomentAt } from './views.ts';

/** Work at a bench, with what was written of it and how it was graded. */
export interface WorkToTell {
  readonly bench: AnyBench;
  readonly actions: readonly AnyAction[];
  readonly sheet: AnySheet;
  /** The boxes as they were typed. */
  readonly typed: Readonly<Record<string, string>>;
  /** The grade that counts. */
  readonly grade: Omit<Grade, 'trace'>;
  readonly trace: Grade['trace'];
}

/** Work told: its log, its dial to be looked at again, and what there is to say of each item. It holds the truth of the bench. */
export interface ToldWork {
  readonly kind: GradedKind;
  readonly parts: GradedParts;
  readonly log: readonly (LogLine & { readonly id: string })[];
  /** Null where there is nothing to look at again. Work told from the start is played without a dial too. */
  readonly replay: ReplayView | null;
  readonly momentAt: MomentAt;
}

/** Tells work. The replay opens at what is most worth a look, or at its beginning with `from` as `start`. */
export function tellWork(work: WorkToTell, from: 'telling' | 'start' = 'telling'): ToldWork {
  const { bench, actions, sheet, typed, grade, trace } = work;
  const kind = gradedKindOf(bench);
  const seen = seenOf(bench, actions);
  const log = logLines(actions, seen, kind.logWords).map((line) => ({ ...line, id: `log-${line.from}` }));
  const replay = replayOf(lookAt(bench, startBench(bench)), seen, (view) => kind.dialOf(view));
  const momentAt = momentsIn(log, replay.frames);
  const hasDial = replay.dials.length > 0;
  const parts = kind.tell({ grade, sheet, typed, trace, momentAt });
  const start = from === 'start' ? 0 : (momentAt(tellingAction(grade, trace), 'highest')?.frame ?? 0);
  return {
    ...{ kind, parts, log, momentAt },
    replay:
      replay.frames.length === 0 || !(hasDial || from === 'start')
        ? null
        : replayView(replay, trace, kind, parts, start),
  };
}

function seenOf(bench: AnyBench, actions: readonly AnyAction[]): AnySeen[] {
  let state = startBench(bench);
  return actions.map((action) => {
    const result = act(bench, state, action);
    state = result.state;
    return result.seen;
  });
}
