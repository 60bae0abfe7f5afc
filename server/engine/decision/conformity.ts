import { normalBetween } from '../statistics/distributions.ts';
import { type JudgeLimits, judgeSimply } from './judge-simply.ts';

/**
 * Probability that the thing measured is inside its limits, 0 to 1, where all that is known of it is the measured value
 * and its standard uncertainty (normal). With no uncertainty it is 0 or 1. All in one unit.
 * Source: JCGM 106:2012, 7.3 (one limit) and 7.4 (two).
 * @throws RangeError as `judgeSimply` does, and for a standard uncertainty that is negative or not finite.
 */
export function conformityProbability(measured: number, standard: number, limits: JudgeLimits): number {
  if (!(standard >= 0 && Number.isFinite(standard)))
    throw new RangeError('The standard uncertainty must be a finite number, 0 or more.');
  const verdict = judgeSimply(measured, limits);
  if (standard === 0) return verdict === 'inside' ? 1 : 0;
  const low = limits.lower === null ? Number.NEGATIVE_INFINITY : (limits.lower - measured) / standard;
  const high = limits.upper === null ? Number.POSITIVE_INFINITY : (limits.upper - measured) / standard;
  return normalBetween(low, high);
}
