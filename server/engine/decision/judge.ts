import { conformityProbability } from './conformity.ts';
import { checkJudged, isBelow, type JudgedVerdict, type JudgeLimits, judgeSimply } from './judge-simply.ts';

export { type JudgedVerdict, type JudgeLimits, judgeSimply } from './judge-simply.ts';

export type GuardedVerdict = JudgedVerdict | 'too-close-to-call';

/** What a measured value is known to: expanded uncertainty U, in the unit of the value, and its coverage factor k. U = 0 is allowed. */
export interface Uncertainty {
  readonly expanded: number;
  readonly k: number;
}

/** How a verdict is reached: the value alone, or with a guard band of U, or of so many U, on either side of each limit. */
export type DecisionRule = 'simple' | 'guarded' | { readonly guardBandInU: number };

export interface Judgement<V extends GuardedVerdict, P extends number | null> {
  readonly verdict: V;
  /** Probability of conformity, 0..1; null where no uncertainty was given. */
  readonly probability: P;
}

/**
 * A measured value against its limits: inside, below, above, or too close to call, and the probability of conformity.
 *
 * Simple acceptance leaves the uncertainty aside. Guarded, with a guard band w = U (or `guardBandInU` × U): inside from
 * lower + w to upper − w, below under lower − w, above over upper + w; between those nothing is proven. Limits and acceptance limits
 * belong to the inside, and exactly w outside is too close to call. Values that differ by a billionth of the unit count as equal.
 * A limit may be null: that side is open. `measured`, limits and U share one unit.
 *
 * Source: ISO 14253-1 (guard band U; its 2017 edition's 95 % is `{ guardBandInU: 0.83 }`), ILAC-G8:09/2019; probability by
 * JCGM 106:2012, 7.3 and 7.4 with u = U/k.
 * @throws RangeError when a number is not finite, U or the guard band is negative, k is not positive, the limits are the
 * wrong way round, or a guarded verdict is asked for without an uncertainty.
 */
export function judge(
  measured: number,
  uncertainty: Uncertainty,
  limits: JudgeLimits,
  rule?: 'simple',
): Judgement<JudgedVerdict, number>;
export function judge(
  measured: number,
  uncertainty: null,
  limits: JudgeLimits,
  rule?: 'simple',
): Judgement<JudgedVerdict, null>;
export function judge(
  measured: number,
  uncertainty: Uncertainty,
  limits: JudgeLimits,
  rule: DecisionRule,
): Judgement<GuardedVerdict, number>;
export function judge(
  measured: number,
  uncertainty: Uncertainty | null,
  limits: JudgeLimits,
  rule: DecisionRule = 'simple',
): Judgement<GuardedVerdict, number | null> {
  if (uncertainty !== null) checkUncertainty(uncertainty);
  const probability =
    uncertainty === null
      ? null
      : conformityProbability(measured, uncertainty.expanded / uncertainty.k, limits);
  if (rule === 'simple') return { verdict: judgeSimply(measured, limits), probability };
  if (uncertainty === null) throw new RangeError('A guarded verdict needs an uncertainty.');
  const bandInU = rule === 'guarded' ? 1 : rule.guardBandInU;
  if (!(bandInU >= 0 && Number.isFinite(bandInU)))
    throw new RangeError('The guard band must be a finite number of U, 0 or more.');
  return { verdict: judgeGuarded(measured, bandInU * uncertainty.expanded, limits), probability };
}

function judgeGuarded(measured: number, band: number, limits: JudgeLimits): GuardedVerdict {
  checkJudged(measured, limits);
  const lower = limits.lower ?? Number.NEGATIVE_INFINITY;
  const upper = limits.upper ?? Number.POSITIVE_INFINITY;
  if (isBelow(measured, lower - band)) return 'below';
  if (isBelow(upper + band, measured)) return 'above';
  if (isBelow(measured, lower + band) || isBelow(upper - band, measured)) return 'too-close-to-call';
  return 'inside';
}

function checkUncertainty({ expanded, k }: Uncertainty): void {
  if (!(expanded >= 0 && Number.isFinite(expanded)))
    throw new RangeError('The expanded uncertainty must be a finite number, 0 or more.');
  if (!(k > 0 && Number.isFinite(k))) throw new RangeError('The coverage factor k must be above 0.');
}
