import type { Criterion, Remark, RemarkValue } from './types.ts';

/** A check worth some points: how much of it was met (0 to 1), and the remark when it was not met in full. */
export interface Check {
  readonly criterion: Criterion;
  readonly worth: number;
  readonly met: number;
  readonly remark: RemarkDraft | null;
}

export interface RemarkDraft {
  readonly code: string;
  readonly position: number | null;
  readonly reading?: number | null;
  readonly at: number | null;
  readonly values?: Readonly<Record<string, RemarkValue>>;
}

export function passed(criterion: Criterion, worth: number): Check {
  return { criterion, worth, met: 1, remark: null };
}

export function failed(criterion: Criterion, worth: number, remark: RemarkDraft, met = 0): Check {
  return { criterion, worth, met, remark };
}

/** A remark that costs nothing: something seen that the student ought to know. */
export function told(remark: RemarkDraft, criterion: Criterion | null = null): Remark {
  return {
    code: remark.code,
    criterion,
    position: remark.position,
    reading: remark.reading ?? null,
    at: remark.at,
    pointsLost: 0,
    values: remark.values ?? {},
  };
}

/** The remark of a check, with what it cost; null when the check was met in full. */
export function remarkOf(check: Check): Remark | null {
  if (check.remark === null) return null;
  return { ...told(check.remark, check.criterion), pointsLost: tenths(check.worth * (1 - check.met)) };
}

/** Points to the nearest tenth. */
export function tenths(points: number): number {
  return Math.round(points * 10) / 10;
}
