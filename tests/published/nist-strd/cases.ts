import { oneWay, summarise } from '../../../server/engine/index.ts';
import { digits, from, jsonOf, keptApart, linesOf, type PublishedCase, present } from '../published-case.ts';

const anova = from('NIST StRD, analysis of variance', 'seen');
const univariate = from('NIST StRD, univariate summary statistics', 'seen');

interface Certified {
  readonly datasets: Readonly<Record<string, Readonly<Record<string, string>>>>;
}
const certifiedAnova = jsonOf('nist-strd', 'anova-certified.json') as Certified;
const certifiedUnivariate = jsonOf('nist-strd', 'univariate-certified.json') as Certified;

function groupsOf(lines: readonly string[][]): number[][] {
  const groups = new Map<string, number[]>();
  for (const [treatment = '', response] of lines)
    groups.set(treatment, [...(groups.get(treatment) ?? []), Number(response)]);
  return [...groups.values()];
}

/** Digits a fair test may ask for: a little less than doubles are known to give. SmLs07's own values cannot be held exactly in a double. */
const ANOVA_DIGITS = { SiRstv: 12.5, AtmWtAg: 9.9, SmLs07: 3.9 } as const;

const anovaCases = Object.entries(ANOVA_DIGITS).flatMap(([set, count]) => {
  const groups = groupsOf(linesOf('nist-strd', `${set}.csv`));
  const result = () => oneWay(groups);
  const ours: Readonly<Record<string, () => number>> = {
    ssBetween: () => result().between.sumOfSquares,
    msBetween: () => result().between.meanSquare,
    ssWithin: () => result().within.sumOfSquares,
    msWithin: () => result().within.meanSquare,
    F: () => present(result().f),
    rSquared: () => present(result().rSquared),
    residualSD: () => result().residualSd,
  };
  return Object.entries(ours).map(([name, value]) => {
    const published = present(certifiedAnova.datasets[set]?.[name]);
    return anova(`${set}: ${name}`, published, digits(published, count), value);
  });
});

/** One value, then 500 pairs a tenth below and a tenth above it. */
const pairs = (middle: number, below: number, above: number) => [
  middle,
  ...Array.from({ length: 500 }, () => [below, above]).flat(),
];

interface Univariate {
  readonly values: readonly number[];
  /** Correct digits asked of the mean, standard deviation and lag-1 autocorrelation. */
  readonly digits: readonly [mean: number, sd: number, lag1: number];
}

/** NumAcc1 to 4 are made by their rule. */
const UNIVARIATE: Readonly<Record<string, Univariate>> = {
  Michelso: { values: linesOf('nist-strd', 'Michelso.csv').map(([y]) => Number(y)), digits: [15, 13, 13] },
  NumAcc1: { values: [10_000_001, 10_000_003, 10_000_002], digits: [15, 15, 15] },
  NumAcc2: { values: pairs(1.2, 1.1, 1.3), digits: [15, 14, 14] },
  NumAcc3: { values: pairs(1_000_000.2, 1_000_000.1, 1_000_000.3), digits: [15, 9, 9] },
  NumAcc4: { values: pairs(10_000_000.2, 10_000_000.1, 10_000_000.3), digits: [15, 8, 8] },
};

function univariateCases(set: string, { values, digits: counts }: Univariate): PublishedCase[] {
  const of = (name: string, count: number, ours: () => number | null) => {
    const published = present(certifiedUnivariate.datasets[set]?.[name]);
    return univariate(`${set}: ${name}`, published, digits(published, count), () => present(ours()));
  };
  return [
    of('mean', counts[0], () => summarise(values).mean),
    of('standardDeviation', counts[1], () => summarise(values).sd),
    of('lag1Autocorrelation', counts[2], () => summarise(values).lag1),
  ];
}

export const cases: readonly PublishedCase[] = [
  ...anovaCases,
  ...Object.entries(UNIVARIATE).flatMap(([set, data]) => univariateCases(set, data)),
];

/** Mavro is not ours to copy; null where it is not at hand. */
export function mavroCases(): PublishedCase[] | null {
  const lines = keptApart('nist-strd', 'Mavro.csv');
  return (
    lines && univariateCases('Mavro', { values: lines.map(([y]) => Number(y)), digits: [15, 12.5, 12.5] })
  );
}
