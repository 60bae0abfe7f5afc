import { coverageFactor } from '../statistics/distributions.ts';

interface PartBase {
  readonly name: string;
  /** How far the result moves for one unit of this part; 1 when left out. */
  readonly sensitivity?: number;
  /** How well the part itself is known: 1 or more; infinite when left out. */
  readonly degreesOfFreedom?: number;
}

/** One source of uncertainty: a standard uncertainty, a half-width with the shape of what lies within it, or a certificate's U with k. */
export type BudgetPart = PartBase &
  (
    | { readonly distribution: 'normal'; readonly standard: number }
    | { readonly distribution: 'rectangular' | 'triangular' | 'arcsine'; readonly halfWidth: number }
    | { readonly distribution: 'expanded'; readonly expanded: number; readonly k: number }
  );

/** What a part adds to the result. */
export interface BudgetLine {
  readonly name: string;
  /** Standard uncertainty of the part, in the part's own unit. */
  readonly standard: number;
  readonly sensitivity: number;
  readonly degreesOfFreedom: number;
  /** |sensitivity| × standard, in the unit of the result. */
  readonly contribution: number;
  /** Share of the combined variance, 0..1; 0 for every part where there is none. */
  readonly share: number;
}

export interface UncertaintyBudget {
  /** In the order the parts were given. */
  readonly lines: readonly BudgetLine[];
  /** Combined standard uncertainty, in the unit of the result. */
  readonly combined: number;
  /** Effective degrees of freedom as Welch and Satterthwaite give them; infinite where every part is known exactly. */
  readonly effectiveDegrees: number;
  /** The same cut to a whole number: the ones t was taken with. */
  readonly degreesOfFreedom: number;
  readonly k: number;
  /** Expanded uncertainty U = k × combined. */
  readonly expanded: number;
}

/** Either how much is to be covered, 0..1 (95 % when left out), or the coverage factor itself. */
export type Coverage = { readonly coverage?: number } | { readonly k: number };

/** Half-width over standard deviation. Source: JCGM 100:2008 (GUM) 4.3.7, 4.3.9 and, for arcsine, JCGM 101:2008 table 1. */
const HALF_WIDTHS = { rectangular: Math.sqrt(3), triangular: Math.sqrt(6), arcsine: Math.SQRT2 } as const;

/**
 * Puts parts that know nothing of each other together: combined uncertainty u, effective degrees of freedom, k and U.
 * Parts in any order give the same. Source: JCGM 100:2008 (GUM) 5.1.2 (combined), G.4.1 and G.4.2 (Welch–Satterthwaite, cut to a whole
 * number), G.6.4 (k from t, here for 95 %).
 * @throws RangeError for no parts, a name left empty, a size that is negative or not finite, a k not above 0, degrees of freedom below
 * 1, a coverage outside 0..1.
 */
export function uncertaintyBudget(parts: readonly BudgetPart[], coverage: Coverage = {}): UncertaintyBudget {
  if (parts.length === 0) throw new RangeError('A budget needs at least one part.');
  const contributions = parts.map((part) => contributionOf(part));
  const variance = sumSmallestFirst(contributions.map(({ contribution }) => contribution ** 2));
  const combined = Math.sqrt(variance);
  const lines = contributions.map((line) => ({
    ...line,
    share: variance > 0 ? line.contribution ** 2 / variance : 0,
  }));
  const known = sumSmallestFirst(lines.map(({ share, degreesOfFreedom }) => share ** 2 / degreesOfFreedom));
  const effectiveDegrees = known > 0 ? 1 / known : Number.POSITIVE_INFINITY;
  // A sum that should be 16 may come out a hair below it.
  const degreesOfFreedom = Math.floor(effectiveDegrees * (1 + 1e-12));
  const k = 'k' in coverage ? coverage.k : coverageFactor(degreesOfFreedom, coverage.coverage ?? 0.95);
  if (!(k > 0 && Number.isFinite(k))) throw new RangeError('The coverage factor k must be above 0.');
  return { lines, combined, effectiveDegrees, degreesOfFreedom, k, expanded: k * combined };
}

function contributionOf(part: BudgetPart): Omit<BudgetLine, 'share'> {
  const { name, sensitivity = 1, degreesOfFreedom = Number.POSITIVE_INFINITY } = part;
  if (name.trim() === '') throw new RangeError('Every part of a budget needs a name.');
  if (!Number.isFinite(sensitivity))
    throw new RangeError(`The sensitivity of "${name}" must be a finite number.`);
  if (!(degreesOfFreedom >= 1))
    throw new RangeError(`The degrees of freedom of "${name}" must be 1 or more.`);
  const standard = standardOf(part);
  return { name, standard, sensitivity, degreesOfFreedom, contribution: Math.abs(sensitivity) * standard };
}

function standardOf(part: BudgetPart): number {
  switch (part.distribution) {
    case 'normal':
      return size(part.standard, part.name);
    case 'expanded':
      if (!(part.k > 0 && Number.isFinite(part.k)))
        throw new RangeError(`The coverage factor k of "${part.name}" must be above 0.`);
      return size(part.expanded, part.name) / part.k;
    case 'rectangular':
    case 'triangular':
    case 'arcsine':
      return size(part.halfWidth, part.name) / HALF_WIDTHS[part.distribution];
    default:
      return part satisfies never;
  }
}

function size(value: number, name: string): number {
  if (!(value >= 0 && Number.isFinite(value)))
    throw new RangeError(`The size of "${name}" must be a finite number, 0 or more.`);
  return value;
}

/** Sorted, so that the order the parts come in cannot move the last digit. */
function sumSmallestFirst(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b).reduce((sum, value) => sum + value, 0);
}
