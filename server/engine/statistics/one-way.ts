import { fAbove } from './distributions.ts';
import { checkFinite, meanOf, sumOfSquares } from './summary.ts';

/** One line of a table of the analysis of variance. */
export interface VarianceLine {
  readonly degreesOfFreedom: number;
  readonly sumOfSquares: number;
  readonly meanSquare: number;
}

export interface OneWay {
  readonly groups: number;
  readonly observations: number;
  readonly means: readonly number[];
  readonly grandMean: number;
  readonly between: VarianceLine;
  readonly within: VarianceLine;
  readonly total: Omit<VarianceLine, 'meanSquare'>;
  /** Mean square between over within: infinite where nothing varies within, null where nothing varies at all. */
  readonly f: number | null;
  /** Chance of an F at least that large where all groups are alike; null with `f`. */
  readonly p: number | null;
  /** Share of the whole sum of squares that lies between groups, 0..1; null with `f`. */
  readonly rSquared: number | null;
  /** Residual standard deviation: square root of the mean square within, in the unit of the readings. */
  readonly residualSd: number;
}

export function varianceLine(sumOfSquares: number, degreesOfFreedom: number): VarianceLine {
  return { degreesOfFreedom, sumOfSquares, meanSquare: sumOfSquares / degreesOfFreedom };
}

/** F and its p of one mean square over another; both null where neither varies. */
export function fTest(line: VarianceLine, error: VarianceLine): { f: number | null; p: number | null } {
  if (error.meanSquare === 0 && line.meanSquare === 0) return { f: null, p: null };
  const f = line.meanSquare / error.meanSquare;
  return { f, p: fAbove(f, line.degreesOfFreedom, error.degreesOfFreedom) };
}

/**
 * One-way analysis of variance of groups of readings, equal in size or not, all in one unit. The first reading is taken off
 * all of them, then means and deviations are taken in two passes: the sums keep their digits where readings agree in their
 * first seven. Source: NIST StRD, analysis of variance, whose certified values it is tested on.
 * @throws RangeError for fewer than two groups, an empty group, no group of two or more, or a reading that is not finite.
 */
export function oneWay(groups: readonly (readonly number[])[]): OneWay {
  if (groups.length < 2) throw new RangeError('At least two groups are needed.');
  const empty = groups.findIndex((group) => group.length === 0);
  if (empty >= 0) throw new RangeError(`Group ${empty + 1} has no readings.`);
  checkFinite(groups.flat());
  const observations = groups.reduce((sum, group) => sum + group.length, 0);
  if (observations === groups.length) throw new RangeError('At least one group needs two readings.');

  const origin = groups[0]?.[0] ?? 0;
  const shifted = groups.map((group) => group.map((reading) => reading - origin));
  const means = shifted.map(meanOf);
  const grandMean = meanOf(shifted.flat());
  const offMean = shifted.map((group, index) => group.map((reading) => reading - (means[index] ?? 0)));
  const withinSquares = offMean.reduce((sum, group) => sum + sumOfSquares(group), 0);
  const betweenSquares = shifted.reduce(
    (sum, group, index) => sum + group.length * ((means[index] ?? 0) - grandMean) ** 2,
    0,
  );

  const between = varianceLine(betweenSquares, groups.length - 1);
  const within = varianceLine(withinSquares, observations - groups.length);
  const whole = betweenSquares + withinSquares;
  return {
    groups: groups.length,
    observations,
    means: means.map((mean) => origin + mean),
    grandMean: origin + grandMean,
    between,
    within,
    total: { degreesOfFreedom: observations - 1, sumOfSquares: whole },
    ...fTest(between, within),
    rSquared: whole > 0 ? betweenSquares / whole : null,
    residualSd: Math.sqrt(within.meanSquare),
  };
}
