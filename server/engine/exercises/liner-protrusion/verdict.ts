import { verdictIn } from '../../bench-parts/limits.ts';
import { isBelow } from '../../decision/judge-simply.ts';
import type { Dial } from '../../dial/dial.ts';
import { convertLength } from '../../units.ts';
import type { LinerLimits, LinerVerdict } from './types.ts';

/**
 * The verdict that the points of one liner call for: the highest against the upper limit, then the lowest against the lower, then
 * their difference. Protrusions in the dial's unit, minus below the block, at least one. The limits belong to the inside.
 * Source: simple acceptance, ISO 14253-1; the order is common practice, no source.
 * @throws RangeError for no points or one that is not finite.
 */
export function judgeLiner(
  points: readonly number[],
  limits: LinerLimits,
  dial: Pick<Dial, 'unit'>,
): LinerVerdict {
  if (points.length === 0) throw new RangeError('A liner is judged on at least one point.');
  const [lowest, highest] = [Math.min(...points), Math.max(...points)];
  if (verdictIn(limits.each, highest, dial) === 'above') return 'above';
  if (verdictIn(limits.each, lowest, dial) === 'below') return 'below';
  const apart = convertLength(highest - lowest, dial.unit, limits.each.unit);
  return limits.within !== null && isBelow(limits.within, apart) ? 'uneven' : 'inside';
}

/** Largest difference between neighbours, in the unit of the means, any finite; null for fewer than two. Never throws. Source: arithmetic. */
export function largestStep(means: readonly number[]): number | null {
  const steps = means.slice(1).map((mean, index) => Math.abs(mean - (means[index] ?? mean)));
  return steps.length === 0 ? null : Math.max(...steps);
}

/**
 * Are neighbours level enough? `step` in the dial's unit, 0 or more. The limit belongs to the inside; without one all are.
 * Never throws. Source: simple acceptance, ISO 14253-1.
 */
export function judgeStep(step: number, limits: LinerLimits, dial: Pick<Dial, 'unit'>): 'inside' | 'above' {
  const inUnit = convertLength(step, dial.unit, limits.each.unit);
  return limits.between !== null && isBelow(limits.between, inUnit) ? 'above' : 'inside';
}
