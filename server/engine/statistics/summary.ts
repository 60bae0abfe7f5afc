export interface Summary {
  readonly count: number;
  readonly mean: number;
  /** Standard deviation of one value, with count − 1; null for a single value. */
  readonly sd: number | null;
  /** Standard deviation of the mean, sd/√count; null for a single value. */
  readonly sdOfMean: number | null;
  /** Lag-1 autocorrelation: near 0 for readings that know nothing of each other; null where all are alike. */
  readonly lag1: number | null;
}

/**
 * Mean, standard deviation and lag-1 autocorrelation, in the unit of `values` (lag1 has none).
 * Source: JCGM 100:2008 (GUM) 4.2.1 to 4.2.3; lag-1 as in NIST StRD, univariate summary statistics.
 * @throws RangeError for no values, or one that is not finite.
 */
export function summarise(values: readonly number[]): Summary {
  if (values.length === 0) throw new RangeError('There are no values to summarise.');
  checkFinite(values);
  const origin = values[0] ?? 0;
  const shifted = values.map((value) => value - origin);
  const shiftedMean = meanOf(shifted);
  const off = shifted.map((value) => value - shiftedMean);
  const squares = sumOfSquares(off);
  const count = values.length;
  const products = off.reduce((sum, value, index) => sum + value * (off[index - 1] ?? 0), 0);
  const sd = count > 1 ? Math.sqrt(squares / (count - 1)) : null;
  return {
    count,
    mean: origin + shiftedMean,
    sd,
    sdOfMean: sd === null ? null : sd / Math.sqrt(count),
    lag1: squares > 0 ? products / squares : null,
  };
}

/**
 * The middle value, or the mean of the two middle ones, in the unit of `values`; null for no values. Source: ISO 3534-1, sample median (from
 * memory).
 * @throws RangeError for a value that is not finite.
 */
export function median(values: readonly number[]): number | null {
  checkFinite(values);
  const sorted = [...values].sort((one, other) => one - other);
  const [low, high] = [sorted[Math.ceil(sorted.length / 2) - 1], sorted[Math.floor(sorted.length / 2)]];
  return low === undefined || high === undefined ? null : (low + high) / 2;
}

/** @throws RangeError for a value that is not finite. */
export function checkFinite(values: readonly number[]): void {
  if (!values.every(Number.isFinite)) throw new RangeError('Every value must be a finite number.');
}

/** The mean, in two passes: the second takes back what rounding left in the first. NaN for no values. */
export function meanOf(values: readonly number[]): number {
  const rough = values.reduce((sum, value) => sum + value, 0) / values.length;
  return rough + values.reduce((sum, value) => sum + (value - rough), 0) / values.length;
}

/** Sum of squares of deviations, less what is left of their mean. */
export function sumOfSquares(deviations: readonly number[]): number {
  let squares = 0;
  let rest = 0;
  for (const deviation of deviations) {
    squares += deviation * deviation;
    rest += deviation;
  }
  return deviations.length === 0 ? 0 : Math.max(0, squares - (rest * rest) / deviations.length);
}
