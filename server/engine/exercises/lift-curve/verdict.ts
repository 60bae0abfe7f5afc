import { verdictIn } from '../../bench-parts/limits.ts';
import { judgeSimply } from '../../decision/judge-simply.ts';
import type { Dial } from '../../dial/dial.ts';
import { nearestTo } from './nearest.ts';
import type { LiftCurveLimits, LiftCurveVerdict } from './types.ts';

/** What a lift curve comes to: the lift in the dial's unit, angles in crank degrees. */
export interface CurveFigures {
  readonly lift: number;
  readonly widthDeg: number;
  readonly centreDeg: number;
}

/**
 * The verdict a lift curve calls for: the lift against its limits, then the width, then the centre, wherever in the cycle it is told.
 * Lift in the unit of its limits, width and centre in degrees of crank. The limits belong to the inside. Source: simple acceptance,
 * ISO 14253-1; the order is common practice, no source.
 * @throws RangeError for a figure that is not finite.
 */
export function judgeLiftCurve(
  { lift, widthDeg, centreDeg }: CurveFigures,
  { lift: onLift, width, centre }: LiftCurveLimits,
  dial: Pick<Dial, 'unit'>,
): LiftCurveVerdict {
  const first = verdictIn(onLift, lift, dial);
  if (first !== 'inside') return first;
  const second = judgeSimply(widthDeg, width);
  if (second !== 'inside') return second;
  const { lower, upper } = centre;
  const middle = lower !== null && upper !== null ? (lower + upper) / 2 : (lower ?? upper ?? 0);
  return judgeSimply(nearestTo(middle, centreDeg), centre) === 'inside' ? 'inside' : 'shifted';
}
