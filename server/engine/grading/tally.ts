import { ENGINE_VERSION } from '../version.ts';
import { CRITERIA, type Criterion, type Grade, type Remark, type RemarkValue } from './types.ts';

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

/** What the checks of an attempt come to: points by criterion, their sum, and a remark for each that was not met in full. */
export function scored(
  checks: readonly Check[],
): Pick<Grade, 'engineVersion' | 'points' | 'total' | 'remarks'> {
  const pointsFor = (criterion: Criterion) =>
    tenths(
      checks.reduce((sum, check) => (check.criterion === criterion ? sum + check.worth * check.met : sum), 0),
    );
  const points = {
    setUp: pointsFor('setUp'),
    procedure: pointsFor('procedure'),
    reading: pointsFor('reading'),
    verdict: pointsFor('verdict'),
  };
  return {
    engineVersion: ENGINE_VERSION,
    points,
    total: tenths(CRITERIA.reduce((sum, criterion) => sum + points[criterion], 0)),
    remarks: checks.flatMap((check) => remarkOf(check) ?? []),
  };
}

/** Points to the nearest tenth. */
export function tenths(points: number): number {
  return Math.round(points * 10) / 10;
}
