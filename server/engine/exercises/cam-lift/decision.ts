import type { Dial } from '../../dial/dial.ts';
import { type GaugeError, mostErrorMm } from '../../dial/gauge-error.ts';
import { uncertaintyBudget } from '../../uncertainty/budget.ts';
import { indicatorErrorPart, resolutionPart, zeroReturnPart } from '../../uncertainty/dial-indicator.ts';
import { findIndicatorLimits } from '../../uncertainty/indicator-limits.ts';
import { fromMm, toMm } from '../../units.ts';
import type { CamLiftDefinition, Decision, Specification } from './types.ts';

/** Scatter of a lift between set-ups and of a pass, in graduations: standard deviations of the bench. Common practice, no source. */
const SCATTER = Math.hypot(0.4, 0.2);

/**
 * How a lift is judged on this sheet. Guarded, U is the expanded uncertainty (95 %) of a lift that is the mean of two readings to the
 * graduation: resolution of two readings, scatter, the zero's return within half a graduation, and the gauge's own error, by JIS B 7503
 * where it has a row, else one graduation (ASME B89.1.10M over 2½ turns, from memory). A lean is corrected, not budgeted.
 */
export function decisionFor(
  { decision = 'simple' }: CamLiftDefinition,
  dial: Dial,
  { unit }: Specification,
): Decision {
  if (decision === 'simple') return { rule: 'simple' };
  if (decision !== 'guarded') throw new RangeError('A decision is "simple" or "guarded".');
  const graduationMm = toMm(dial.graduation, dial.unit);
  const limits = findIndicatorLimits(graduationMm, toMm(dial.travel, dial.unit));
  const errorMm = limits === undefined ? graduationMm : limits.wholeRangeUm / 1000;
  const { expanded, k } = uncertaintyBudget([
    // The mean of two readings: each counts by half.
    { ...resolutionPart(graduationMm, 'first reading'), sensitivity: 0.5 },
    { ...resolutionPart(graduationMm, 'second reading'), sensitivity: 0.5 },
    { name: 'scatter', distribution: 'normal', standard: SCATTER * graduationMm },
    zeroReturnPart(graduationMm / 2),
    indicatorErrorPart(errorMm),
  ]);
  const decimals = unit === 'in' ? 4 : 3;
  return { rule: 'guarded', expanded: Number(fromMm(expanded, unit).toFixed(decimals)), k, unit };
}

/**
 * How far a drawn lift keeps from every limit, millimetres: two graduations and the most this gauge is wrong by; guarded, U and a
 * graduation more. Where close calls are wanted it may lie nearer, half a graduation from the limit itself.
 */
export function marginFor(
  dial: Dial,
  gauge: GaugeError,
  decision: Decision,
  closeCalls: boolean,
  unit: Specification['unit'],
): number {
  const graduationMm = toMm(dial.graduation, dial.unit);
  if (closeCalls) return graduationMm / 2;
  const simple = 2 * graduationMm + mostErrorMm(gauge);
  return decision.rule === 'simple'
    ? simple
    : Math.max(simple, toMm(decision.expanded, unit) + graduationMm + mostErrorMm(gauge));
}
