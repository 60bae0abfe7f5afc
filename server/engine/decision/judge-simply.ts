/** Limits in one unit; null is an open side. */
export interface JudgeLimits {
  readonly lower: number | null;
  readonly upper: number | null;
}

export type JudgedVerdict = 'inside' | 'below' | 'above';

/**
 * Simple acceptance: the limits belong to the inside, a side left open is never passed. `measured` and the limits share
 * one unit. Source: JCGM 106:2012, 8.2 (simple acceptance; a manual's "replace below" is a limit with the upper side open).
 * @throws RangeError when `measured` or a limit is not finite, or the limits are the wrong way round.
 */
export function judgeSimply(measured: number, limits: JudgeLimits): JudgedVerdict {
  checkJudged(measured, limits);
  if (limits.lower !== null && isBelow(measured, limits.lower)) return 'below';
  if (limits.upper !== null && isBelow(limits.upper, measured)) return 'above';
  return 'inside';
}

/** @throws RangeError when `measured` or a limit is not finite, or the limits are the wrong way round. */
export function checkJudged(measured: number, { lower, upper }: JudgeLimits): void {
  if (!Number.isFinite(measured)) throw new RangeError('The measured value must be a finite number.');
  for (const limit of [lower, upper])
    if (limit !== null && !Number.isFinite(limit))
      throw new RangeError('A limit must be a finite number, or null where that side is open.');
  if (lower !== null && upper !== null && lower > upper)
    throw new RangeError('The lower limit is above the upper one.');
}

/**
 * Whether `a` is below `b` by more than binary rounding: a limit and a sum of graduations meet only to within that. A billionth
 * of the unit, or of the value where it is larger, counts as equal.
 */
export function isBelow(a: number, b: number): boolean {
  return a < b - 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
}
