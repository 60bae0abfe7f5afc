import { CRITERIA, type Criterion } from '../engine/index.ts';

export type PointsByCriterion = Readonly<Record<Criterion, number>>;

/** The columns of a change of grade. */
export interface ChangedPoints {
  readonly set_up: number;
  readonly procedure: number;
  readonly reading: number;
  readonly verdict: number;
}

/** Points to the nearest tenth, as they are given. */
export function tenths(points: number): number {
  return Math.round(points * 10) / 10;
}

export function totalOf(points: PointsByCriterion): number {
  return tenths(CRITERIA.reduce((sum, criterion) => sum + points[criterion], 0));
}

/** The points of a change, by criterion. */
export function pointsOfChange(change: ChangedPoints): PointsByCriterion {
  return {
    setUp: change.set_up,
    procedure: change.procedure,
    reading: change.reading,
    verdict: change.verdict,
  };
}

/** The points that count: an instructor's newest change of them, otherwise the grade's own. Stops are never changed. */
export function effectivePoints(
  graded: PointsByCriterion,
  newestChange: ChangedPoints | undefined,
): PointsByCriterion {
  return newestChange === undefined ? graded : pointsOfChange(newestChange);
}
