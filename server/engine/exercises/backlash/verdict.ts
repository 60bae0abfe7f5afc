import { verdictIn } from '../../bench-parts/limits.ts';
import type { SetLimits } from '../../bench-parts/types.ts';
import { isBelow } from '../../decision/judge-simply.ts';
import type { Dial } from '../../dial/dial.ts';
import { convertLength } from '../../units.ts';
import type { BacklashVerdict } from './types.ts';

/**
 * The verdict that backlash at several teeth calls for: the largest against the upper limit, then the smallest against the lower,
 * then their difference against the spread allowed. Lengths in the dial's unit, at least one; `spread` in the limits' unit, null
 * for none. The limits belong to the inside. Source: simple acceptance, ISO 14253-1; the order is common practice, no source.
 * @throws RangeError for no teeth or one that is not finite.
 */
export function judgeBacklash(
  teeth: readonly number[],
  limits: SetLimits,
  spread: number | null,
  dial: Pick<Dial, 'unit'>,
): BacklashVerdict {
  if (teeth.length === 0) throw new RangeError('Backlash is judged on at least one tooth.');
  const [smallest, largest] = [Math.min(...teeth), Math.max(...teeth)];
  if (verdictIn(limits, largest, dial) === 'above') return 'above';
  if (verdictIn(limits, smallest, dial) === 'below') return 'below';
  const apart = convertLength(largest - smallest, dial.unit, limits.unit);
  return spread !== null && isBelow(spread, apart) ? 'uneven' : 'inside';
}
