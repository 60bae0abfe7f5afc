import { clamp } from '../angles.ts';

/**
 * Gear backlash as a play operator. The cam, told in crank degrees (twice its own angle), stays where it is until the
 * play is taken up: barring forward it follows the crank, barring backward it lags by the whole backlash. So backlash
 * never changes the height of a lobe, only the crank angle at which it is read.
 */
export function camInCrankDeg(previousDeg: number, crankDeg: number, backlashDeg: number): number {
  return clamp(previousDeg, crankDeg, crankDeg + backlashDeg);
}
