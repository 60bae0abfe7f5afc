import type { Chance } from '../../random.ts';
import { toMm } from '../../units.ts';
import type { TappetTruth } from './bench.ts';
import type { CamLiftDefinition, CamLiftLevel, Specification } from './types.ts';

/** In two engines of five, at level 3 in three of five, one of the tappets to be measured on hangs or sticks. */
export function drawTappets(
  definition: CamLiftDefinition,
  positions: readonly number[],
  specification: Specification,
  level: CamLiftLevel,
  chance: Chance,
): Map<number, TappetTruth> {
  const drawn = chance.chance(level === 3 ? 0.6 : 0.4);
  const position = chance.pick(positions);
  const share = chance.uniform(0, 1);
  const size = chance.uniform(0, 1);
  const faults = new Map<number, TappetTruth>();
  if (!drawn || !(definition.tappetFaults ?? level > 1)) return faults;
  const nominalMm = toMm(specification.nominal, specification.unit);
  if (share < 0.4) faults.set(position, { fault: 'dull-stop', hungMm: 0.5 + size, sticksMm: 0 });
  else if (share < 0.6) faults.set(position, { fault: 'slot-off-pin', hungMm: 6 + 3 * size, sticksMm: 0 });
  // Half of the sticky ones stay up for good, the others let go on the way down.
  else
    faults.set(position, {
      fault: 'sticky',
      hungMm: 0,
      sticksMm: size < 0.5 ? 1.5 * nominalMm : (size - 0.35) * nominalMm,
    });
  return faults;
}
