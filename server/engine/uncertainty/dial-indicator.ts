import { trueFromShown } from '../alignment/cosine-error.ts';
import { summarise } from '../statistics/summary.ts';
import type { BudgetPart } from './budget.ts';

/**
 * Parts of the budget of a travel measured with a dial indicator. Lengths are in the unit the budget is wanted in.
 * Which parts there are is common practice, no source; how each is turned into a standard uncertainty is JCGM 100:2008 (GUM) 4.2, 4.3 and F.2.
 */

/**
 * Reading a pointer to the nearest `step` (a graduation, or a half): anything within half a step looks the same. Once for each reading taken.
 * Half-width in the unit of `step`, which is 0 or more. Never throws: `uncertaintyBudget` refuses what cannot be. Source: GUM F.2.2.1.
 */
export function resolutionPart(step: number, name = 'resolution'): BudgetPart {
  return { name, distribution: 'rectangular', halfWidth: step / 2 };
}

/**
 * The gauge's own error over the travel used, from its limits. A standard's whole-range figure is the largest *difference* between the
 * errors of two points, and a travel is such a difference: it may be wrong by that much either way.
 * In the unit of the limit, 0 or more. Never throws: `uncertaintyBudget` refuses what cannot be. Source: GUM 4.3.7; JIS B 7503 for the limit.
 */
export function indicatorErrorPart(largestDifference: number, name = 'indicator error'): BudgetPart {
  return { name, distribution: 'rectangular', halfWidth: largestDifference };
}

/**
 * Scatter of repeated readings, where their mean is what is reported: s/√n with n − 1 degrees of freedom, in the readings' unit.
 * Source: GUM 4.2.3.
 * @throws RangeError for fewer than two readings.
 */
export function repeatabilityPart(readings: readonly number[], name = 'repeatability'): BudgetPart {
  const { count, sdOfMean } = summarise(readings);
  if (sdOfMean === null) throw new RangeError('Repeatability needs at least two readings.');
  return { name, distribution: 'normal', standard: sdOfMean, degreesOfFreedom: count - 1 };
}

/**
 * Zero that did not come back: the true zero of a pass lay anywhere within what it came back off by, either way. In the unit of the
 * return, any finite number. Never throws. Source: GUM 4.3.7; that the zero lay so is common practice, no source.
 */
export function zeroReturnPart(largestReturn: number, name = 'zero return'): BudgetPart {
  return { name, distribution: 'rectangular', halfWidth: Math.abs(largestReturn) };
}

/**
 * An indicator that may lean up to `largestLeanDeg` on a square face and is not corrected for it. The error goes one way only, from 0 to
 * reading × (1 − cos); taking it both ways says rather too much than too little. In the reading's unit.
 * Source: geometry, `trueFromShown`; GUM 4.3.7. @throws RangeError for a lean outside ±90°.
 */
export function leanPart(reading: number, largestLeanDeg: number, name = 'lean'): BudgetPart {
  const travel = Math.abs(reading);
  const tooHigh = travel - trueFromShown(travel, largestLeanDeg, 'leans-on-square-face');
  return { name, distribution: 'rectangular', halfWidth: tooHigh };
}
