import { isBelow } from '../../decision/judge-simply.ts';
import type { Dial } from '../../dial/dial.ts';
import { convertLength } from '../../units.ts';
import { AXES, type BoreAxis, type BoreLevel, type BoreLimits, type BoreVerdict, LEVELS } from './types.ts';

/** One diameter measured, any unit. */
export interface BoreDiameter {
  readonly level: BoreLevel;
  readonly axis: BoreAxis;
  readonly diameter: number;
}

export interface BoreResults {
  readonly largest: number;
  readonly outOfRound: number;
  readonly taper: number;
}

/**
 * What a cylinder's diameters come to, in their unit: the largest; out-of-round, the largest difference of the two axes at one
 * level; taper, the largest difference of the levels along one axis. Source: TM 9-2815-260-24. Null for no diameters.
 * Never throws.
 */
export function boreResults(diameters: readonly BoreDiameter[]): BoreResults | null {
  if (diameters.length === 0) return null;
  const apart = (own: readonly BoreDiameter[]) => {
    const sizes = own.map(({ diameter }) => diameter);
    return sizes.length === 0 ? 0 : Math.max(...sizes) - Math.min(...sizes);
  };
  return {
    largest: Math.max(...diameters.map(({ diameter }) => diameter)),
    outOfRound: Math.max(...LEVELS.map((level) => apart(diameters.filter((one) => one.level === level)))),
    taper: Math.max(...AXES.map((axis) => apart(diameters.filter((one) => one.axis === axis)))),
  };
}

/**
 * The diameter that a reading stands for: a larger bore lets the plunger out, and the pointer goes to minus. One unit for all, any finite
 * numbers. Never throws. Source: geometry of a two-point gauge.
 */
export function boreDiameter(ring: number, reading: number): number {
  return ring - reading;
}

/**
 * The verdict that results in the dial's unit call for: size first, then out-of-round, then taper. Limits belong to the inside.
 * Source: simple acceptance, ISO 14253-1; the order is common practice, no source. Results 0 or more. Never throws.
 */
export function judgeBore(
  { largest, outOfRound, taper }: BoreResults,
  limits: BoreLimits,
  dial: Pick<Dial, 'unit'>,
): BoreVerdict {
  const over = (length: number, limit: number | null) =>
    limit !== null && isBelow(limit, convertLength(length, dial.unit, limits.unit));
  if (over(largest, limits.upper)) return 'above';
  if (over(outOfRound, limits.outOfRound)) return 'out-of-round';
  return over(taper, limits.taper) ? 'tapered' : 'inside';
}
