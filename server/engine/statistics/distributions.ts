import { regularisedBeta, regularisedGamma } from './special-functions.ts';

/** From here on more degrees of freedom change nothing in the first eleven digits, and the expansions no longer settle. */
const AS_GOOD_AS_ENDLESS = 1e12;

/** Degrees of freedom: 1 or more, whole or not, or infinite. @throws RangeError for anything else. */
function checkDegrees(...degrees: readonly number[]): void {
  for (const freedom of degrees)
    if (!(freedom >= 1)) throw new RangeError('Degrees of freedom must be 1 or more.');
}

function checkProbability(probability: number): void {
  if (!(probability > 0 && probability < 1))
    throw new RangeError('A probability must lie between 0 and 1, both left out.');
}

/** Chance that a standard normal value lies above `z`; any z, infinite too. Good to 13 digits of itself far into the tail. */
export function normalAbove(z: number): number {
  const beyond = regularisedGamma(0.5, (z * z) / 2);
  return z < 0 ? 0.5 + beyond.lower / 2 : beyond.upper / 2;
}

/** Chance that a standard normal value lies between `low` and `high`, either infinite. 0 where `low` is not below `high`. */
export function normalBetween(low: number, high: number): number {
  if (!(low < high)) return 0;
  // Far out on one side both chances below are nearly 1: take the tails that are small.
  if (low > 0) return normalAbove(low) - normalAbove(high);
  if (high < 0) return normalAbove(-high) - normalAbove(-low);
  return 1 - normalAbove(-low) - normalAbove(high);
}

/** The z with `probability` below it; on (0, 1). @throws RangeError outside. */
export function normalQuantile(probability: number): number {
  checkProbability(probability);
  if (probability === 0.5) return 0;
  const z = whereFalls(normalAbove, Math.min(probability, 1 - probability));
  return probability < 0.5 ? -z : z;
}

/**
 * Chance that Student's t lies outside ±|t|. `freedom` 1 or more, infinite is the normal distribution.
 * @throws RangeError for other degrees of freedom.
 */
export function studentOutside(t: number, freedom: number): number {
  checkDegrees(freedom);
  if (freedom > AS_GOOD_AS_ENDLESS) return 2 * normalAbove(Math.abs(t));
  if (!Number.isFinite(t)) return 0;
  const whole = freedom + t * t;
  return regularisedBeta(freedom / whole, (t * t) / whole, freedom / 2, 0.5);
}

/**
 * Coverage factor: the t that holds `coverage` between −t and t, without a unit. Coverage on (0, 1), `freedom` 1 or more, infinite for the normal distribution.
 * Source: JCGM 100:2008 (GUM) G.3, table G.2. @throws RangeError outside those.
 */
export function coverageFactor(freedom: number, coverage: number): number {
  checkDegrees(freedom);
  checkProbability(coverage);
  return whereFalls((t) => studentOutside(t, freedom), 1 - coverage);
}

/** Chance that an F value with `above` over `below` degrees of freedom is larger than `f`. @throws RangeError for degrees below 1. */
export function fAbove(f: number, above: number, below: number): number {
  checkDegrees(above, below);
  if (f <= 0) return 1;
  if (f === Number.POSITIVE_INFINITY) return 0;
  if (below > AS_GOOD_AS_ENDLESS) return chiSquareAbove(above * f, above);
  if (above > AS_GOOD_AS_ENDLESS) return regularisedGamma(below / 2, below / (2 * f)).lower;
  const whole = below + above * f;
  return regularisedBeta(below / whole, (above * f) / whole, below / 2, above / 2);
}

/** The F with `probability` below it; on (0, 1), either degrees may be infinite. @throws RangeError outside. */
export function fQuantile(probability: number, above: number, below: number): number {
  checkProbability(probability);
  checkDegrees(above, below);
  return whereFalls((f) => fAbove(f, above, below), 1 - probability);
}

function chiSquareAbove(value: number, freedom: number): number {
  return regularisedGamma(freedom / 2, value / 2).upper;
}

/** Where a chance that falls from x = 0 on has come down to `target`: by halving, down to neighbouring numbers. */
function whereFalls(chanceAbove: (x: number) => number, target: number): number {
  let low = 0;
  let high = 1;
  while (chanceAbove(high) > target) {
    low = high;
    high *= 2;
  }
  for (;;) {
    const middle = (low + high) / 2;
    if (!(middle > low && middle < high)) return middle;
    if (chanceAbove(middle) > target) low = middle;
    else high = middle;
  }
}
