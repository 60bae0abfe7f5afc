import { fQuantile } from './distributions.ts';
import type { VarianceLine } from './one-way.ts';

/** A mean square and what it counts for, with its sign. */
export interface VarianceTerm {
  readonly coefficient: number;
  readonly line: VarianceLine;
}

export interface Limits {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Confidence limits, equal tails, of a sum of independent mean squares, some of them taken away: a variance component or a sum of such.
 * Below 0 they are set to 0, so they need not hold a component that was itself set to 0. Exact for one mean square (chi-square), else the
 * modified large-sample method: Graybill and Wang (1980) for sums, Ting, Burdick, Graybill, Jeyaratnam and Lu (1990) where something is taken
 * away, as gathered in Burdick, Borror and Montgomery, Design and Analysis of Gauge R&R Studies (2005); from memory, compared with a public
 * implementation.
 */
export function varianceLimits(terms: readonly VarianceTerm[], confidence: number): Limits {
  const tail = (1 - confidence) / 2;
  const counted = terms.filter(({ coefficient }) => coefficient !== 0);
  const added = counted.filter(({ coefficient }) => coefficient > 0).map(sized);
  const taken = counted.filter(({ coefficient }) => coefficient < 0).map(sized);
  const estimate = sum(added, ({ size }) => size) - sum(taken, ({ size }) => size);
  return {
    lower: Math.max(0, estimate - Math.sqrt(spread(added, taken, 1 - tail))),
    upper: Math.max(0, estimate + Math.sqrt(spread(taken, added, 1 - tail))),
  };
}

interface Sized {
  readonly size: number;
  readonly freedom: number;
}

function sized({ coefficient, line }: VarianceTerm): Sized {
  return { size: Math.abs(coefficient) * line.meanSquare, freedom: line.degreesOfFreedom };
}

/** How far a mean square's own limits lie from it, as a share of it: below (G), above (H). */
const shareBelow = (freedom: number, high: number) =>
  1 - 1 / fQuantile(high, freedom, Number.POSITIVE_INFINITY);
const shareAbove = (freedom: number, high: number) =>
  1 / fQuantile(1 - high, freedom, Number.POSITIVE_INFINITY) - 1;

/**
 * Square of the distance from the estimate to a limit. `falling` are the mean squares that are truly smaller at that limit than they came out, `rising` those
 * that are larger: at the lower limit the added ones fall, at the upper one those taken away do.
 */
function spread(falling: readonly Sized[], rising: readonly Sized[], high: number): number {
  const g = ({ freedom }: Sized) => shareBelow(freedom, high);
  const h = ({ freedom }: Sized) => shareAbove(freedom, high);
  // What a limit of a single mean square asks for on its own.
  let square =
    sum(falling, (one) => (g(one) * one.size) ** 2) + sum(rising, (one) => (h(one) * one.size) ** 2);
  // What makes it exact for the difference of two.
  for (const down of falling)
    for (const up of rising) {
      const f = fQuantile(high, down.freedom, up.freedom);
      square += (((f - 1) ** 2 - (g(down) * f) ** 2 - h(up) ** 2) / f) * down.size * up.size;
    }
  // Only where something rises against them do those that fall together need a term of their own.
  if (rising.length > 0)
    falling.forEach((one, index) => {
      for (const other of falling.slice(index + 1)) {
        const both = one.freedom + other.freedom;
        const together =
          (shareBelow(both, high) * both) ** 2 / (one.freedom * other.freedom) -
          (g(one) ** 2 * one.freedom) / other.freedom -
          (g(other) ** 2 * other.freedom) / one.freedom;
        square += (together / (falling.length - 1)) * one.size * other.size;
      }
    });
  return Math.max(0, square);
}

function sum<T>(values: readonly T[], of: (value: T) => number): number {
  return values.reduce((total, value) => total + of(value), 0);
}
