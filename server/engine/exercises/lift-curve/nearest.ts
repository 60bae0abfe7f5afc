import { wrapDegrees } from '../../angles.ts';
import { CYCLE_DEG } from '../../drive/firing.ts';

/** The same angle of the cycle told as near as can be to another one: 718° is 2° before 0. Degrees. */
export function nearestTo(toDeg: number, angleDeg: number): number {
  return toDeg + wrapDegrees(angleDeg - toDeg, CYCLE_DEG);
}
