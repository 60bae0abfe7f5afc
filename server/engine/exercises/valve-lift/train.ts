import { clamp } from '../../angles.ts';
import { firingTdcDeg } from '../../drive/firing.ts';
import { displacementMm } from '../../lobe/lift-curve.ts';
import type { Valve, ValveBench, ValveName, ValveState, ValveTruth } from './types.ts';

/**
 * Crank degrees from a cylinder's firing top dead centre to the middle of its lobe's nose. The exhaust valve opens most about 110° before the
 * top dead centre between exhaust and intake stroke, the intake valve as much after it. Common practice, no source.
 */
const NOSE_AFTER_FIRING_DEG: Readonly<Record<Valve, number>> = { exhaust: 250, intake: 470 };

/**
 * Crank angle of a valve's nose, degrees from cylinder 1's firing top dead centre, 0 or more. Source: the firing order (`firingTdcDeg`); where the
 * nose lies in its cylinder's cycle is common practice, no source. @throws RangeError when the cylinder is not in the order.
 */
export function noseDeg(firingOrder: readonly number[], { cylinder, valve }: ValveName): number {
  return firingTdcDeg(firingOrder, cylinder) + NOSE_AFTER_FIRING_DEG[valve];
}

/**
 * Lift of a valve: ratio × lobe lift − lash, never less than nothing. Lengths in one unit, 0 or more; the ratio has none. Source: geometry
 * of the rocker; lash is measured at the valve. Never throws.
 */
export function valveLift(lobeLift: number, ratio: number, lash: number): number {
  return Math.max(0, ratio * lobeLift - lash);
}

/**
 * Ratio of a rocker from what was measured: (valve lift + lash) / lobe lift, lengths in one unit. Source: the same, turned round.
 * @throws RangeError when the lobe did not lift.
 */
export function rockerRatio(lift: number, lash: number, lobeLift: number): number {
  if (!(lobeLift > 0)) throw new RangeError('A lobe that does not lift has no ratio.');
  return (lift + lash) / lobeLift;
}

export function truthOf(bench: ValveBench, name: ValveName | null): ValveTruth | undefined {
  return bench.valves.find((one) => one.cylinder === name?.cylinder && one.valve === name.valve);
}

/** How far a valve's tappet is up at a crank angle, millimetres. */
export function lobeMm({ lobe }: ValveTruth, crankDeg: number): number {
  return displacementMm(lobe, (crankDeg - lobe.noseCrankDeg) / 2);
}

/** Play between rocker and valve, a bled tappet's among it, millimetres. */
export function playMm({ lashMm, bledMm }: ValveTruth, pumped: boolean): number {
  return lashMm + (pumped ? 0 : bledMm);
}

/** The rocker's nose lies between its pushrod and its valve: where it comes to from where it was. */
export function noseBetween(truth: ValveTruth, { upMm, noseMm, pumped }: ValveState): number {
  const pushedMm = truth.ratio * upMm;
  return clamp(noseMm, pushedMm, Math.max(pushedMm, playMm(truth, pumped)));
}
