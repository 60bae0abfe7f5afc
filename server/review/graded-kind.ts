import type { CleanLine } from '../../views/drawing/plot.ts';
import {
  type AnyBench,
  type AnySheet,
  type AnyView,
  type Dial,
  type Grade,
  isKind,
  type TraceRun,
} from '../engine/index.ts';
import { camLiftGraded } from './cam-lift-graded.ts';
import { deskGraded } from './desk-graded.ts';
import type { GradedItem } from './graded-items.ts';
import type { GradedLobe } from './graded-lobes.ts';
import type { LogWords } from './log-lines.ts';
import type { MomentAt, RemarkView, StopView } from './views.ts';

/** What is graded, and what was done and written for it. */
export interface GradedWork {
  /** The stored grade: it counts, whatever a newer engine would say. */
  readonly grade: Omit<Grade, 'trace'>;
  readonly sheet: AnySheet;
  /** The boxes as they were typed. */
  readonly typed: Readonly<Record<string, string>>;
  readonly trace: readonly TraceRun[];
  readonly momentAt: MomentAt;
}

/** What there is to tell of a graded attempt that depends on its kind. */
export interface GradedParts {
  readonly stops: readonly StopView[];
  /** Remarks about the whole run. */
  readonly general: readonly RemarkView[];
  /** Cam lift; empty for other kinds. */
  readonly lobes: readonly GradedLobe[];
  /** The other kinds; empty for cam lift. */
  readonly items: readonly GradedItem[];
}

/** The one thing the frame of a graded attempt asks of a kind: its words, its gauge, and what there is to tell. */
export interface GradedKind {
  readonly plate: string;
  /** A line each. */
  readonly specification: readonly string[];
  readonly logWords: LogWords;
  /** What is turned in its plots; null where nothing is. */
  readonly turned: string | null;
  /** The gauge in hand; null where there is none. */
  dialOf(view: AnyView): Dial | null;
  /** The gauge a stretch of the trace was read on. */
  dialOfRun(run: TraceRun): Dial;
  /** What a stretch of the trace is about: `Position 4`, `Rim`. */
  runTitle(run: TraceRun): string;
  /** The same work done cleanly, at the degrees of a stretch; null where it is not worked out. */
  cleanLine(run: TraceRun): CleanLine | null;
  tell(work: GradedWork): GradedParts;
}

/** The graded side of a bench, whatever kind it is of. */
export function gradedKindOf(bench: AnyBench): GradedKind {
  return isKind(bench, 'cam-lift') ? camLiftGraded(bench) : deskGraded(bench);
}
