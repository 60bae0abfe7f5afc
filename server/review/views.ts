import type { Criterion } from '../engine/index.ts';

/** Where a remark is to be seen: the line of the log, and the frame of the replay. */
export interface Moment {
  readonly line: string;
  readonly frame: number;
}

/** Finds the moment of an action: of its frames the highest, or the last. */
export type MomentAt = (at: number | null, which: 'highest' | 'last') => Moment | null;

export interface RemarkView {
  /** What it is of the grade: kind of thing, place in its list, code. A disagreement is about one of these. */
  readonly ref: string;
  readonly seen: string;
  readonly why: string;
  /** `Reading 1`, or nothing where it is about the whole item. */
  readonly place: string;
  readonly criterion: string;
  /** Points lost; 0 for one that costs nothing, or that explains one. */
  readonly cost: number;
  readonly moment: Moment | null;
}

export interface StopView {
  readonly ref: string;
  readonly seen: string;
  readonly why: string;
  readonly moment: Moment | null;
}

export interface PlotView {
  readonly title: string;
  readonly narrow: string;
  readonly wide: string;
}

export interface CriterionPoints {
  readonly criterion: Criterion;
  readonly words: string;
  /** The points that count. */
  readonly points: number;
  readonly outOf: number;
  /** The points of the grade itself, where an instructor has changed them. */
  readonly before: number | null;
}

export interface ChangeView {
  readonly id: number;
  readonly who: string;
  readonly at: string;
  readonly when: string;
  readonly reason: string;
  readonly total: number;
  readonly points: readonly { readonly words: string; readonly points: number }[];
}

/** A part of the sheet as it was typed. */
export interface TypedPart {
  readonly title: string;
  readonly rows: readonly { readonly label: string; readonly typed: string }[];
}

export function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
