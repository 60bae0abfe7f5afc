import {
  type Component,
  type GaugeStudyOptions,
  gaugeStudy,
  type StudyReading,
} from '../../../server/engine/index.ts';
import {
  asPrinted,
  from,
  keptApart,
  linesOf,
  type PublishedCase,
  present,
  studyReadings,
} from '../published-case.ts';

const AIAG = 'AIAG, Measurement Systems Analysis, 4th edition, 10 × 3 × 3';
const aiag = from(AIAG, 'seen');
const recomputed = from(`${AIAG}, recomputed`, 'computed');
const limits = from(`${AIAG}, 95 % limits recomputed with SciPy, interaction kept`, 'computed');
const factors = from('AIAG, Measurement Systems Analysis, K₁, K₂, K₃', 'from memory');

type Make = ReturnType<typeof from>;

/** A print, our number for it, and how far apart they may be: half of the last digit, unless the print was made of rounded numbers. */
type Print = readonly [what: string, published: string, ours: () => number | string, within?: number];
const printed = (make: Make, prints: readonly Print[], how = '') =>
  prints.map(([what, published, ours, within = asPrinted(published)]) =>
    make(`${how}${what}`, published, within, ours),
  );

const readings = studyReadings(linesOf('gauge-study', 'aiag-msa-10x3x3.csv'));
const study = (options?: GaugeStudyOptions) => gaugeStudy(readings, options);
const ranges = () => present(study().averageAndRange);
const anova = () => study().anova;
const appraiser = (index: number, name: 'meanByAppraiser' | 'meanRangeByAppraiser') =>
  present(ranges()[name][index]);

const byRange: readonly Print[] = [
  ['mean range of appraiser A', '0.184', () => appraiser(0, 'meanRangeByAppraiser')],
  ['mean range of appraiser B', '0.513', () => appraiser(1, 'meanRangeByAppraiser')],
  ['mean range of appraiser C', '0.328', () => appraiser(2, 'meanRangeByAppraiser')],
  ['mean of appraiser A', '0.1903', () => appraiser(0, 'meanByAppraiser')],
  ['mean of appraiser B', '0.0683', () => appraiser(1, 'meanByAppraiser')],
  ['mean of appraiser C', '-0.2543', () => appraiser(2, 'meanByAppraiser')],
  ['mean range', '0.3417', () => present(study().ranges).meanRange],
  // Of rounded means.
  ['largest difference of appraiser means', '0.4446', () => ranges().appraiserSpread, 0.0002],
  ['range of part means', '3.511', () => ranges().partSpread],
  ['upper limit of ranges', '0.880', () => present(study().ranges).upper, 0.001],
  [
    'cells outside the range limits',
    'part 4, appraiser B',
    () =>
      present(study().ranges)
        .outside.map((cell) => `part ${cell.part}, appraiser ${cell.appraiser}`)
        .join('; '),
    0,
  ],
  // The manual rounds as it goes along.
  ['EV', '0.20188', () => ranges().repeatability.sd, 0.00005],
  ['AV', '0.22963', () => ranges().reproducibility.sd, 0.00005],
  ['GRR', '0.30575', () => ranges().gauge.sd, 0.00005],
  ['PV', '1.10456', () => ranges().part.sd, 0.00005],
  ['TV', '1.14610', () => ranges().total.sd, 0.00005],
  ['EV, % of TV', '17.62', () => ranges().repeatability.percentOfStudy, 0.01],
  ['AV, % of TV', '20.04', () => ranges().reproducibility.percentOfStudy, 0.01],
  ['GRR, % of TV', '26.68', () => ranges().gauge.percentOfStudy, 0.01],
  ['PV, % of TV', '96.38', () => ranges().part.percentOfStudy, 0.01],
  ['number of distinct categories', '5', () => ranges().categories],
];

const byVariance: readonly Print[] = [
  ['EV, variance', '0.0400', () => anova().repeatability.variance],
  ['AV, variance', '0.0515', () => anova().reproducibility.variance],
  ['GRR, variance', '0.0914', () => anova().gauge.variance],
  ['PV, variance', '1.086', () => anova().part.variance],
  ['EV, standard deviation', '0.19993', () => anova().repeatability.sd],
  ['AV, standard deviation', '0.22684', () => anova().reproducibility.sd],
  ['GRR, standard deviation', '0.30237', () => anova().gauge.sd],
  ['PV, standard deviation', '1.0423', () => anova().part.sd],
  ['TV, standard deviation', '1.0853', () => anova().total.sd],
  ['EV, % of TV', '18.42', () => anova().repeatability.percentOfStudy],
  ['AV, % of TV', '20.90', () => anova().reproducibility.percentOfStudy],
  ['GRR, % of TV', '27.86', () => anova().gauge.percentOfStudy],
  ['PV, % of TV', '96.04', () => anova().part.percentOfStudy],
  ['EV, % contribution', '3.39', () => anova().repeatability.percentContribution],
  ['AV, % contribution', '4.37', () => anova().reproducibility.percentContribution],
  ['GRR, % contribution', '7.76', () => anova().gauge.percentContribution],
  ['PV, % contribution', '92.24', () => anova().part.percentContribution],
  ['number of distinct categories', '4', () => anova().categories],
];

const table = () => anova().table;
const fullPrecision: readonly Print[] = [
  ['sum of squares, appraiser', '3.16726222', () => table().appraiser.sumOfSquares],
  ['sum of squares, part', '88.36193444', () => table().part.sumOfSquares],
  ['sum of squares, interaction', '0.35898222', () => table().interaction.sumOfSquares],
  ['sum of squares, equipment', '2.75893333', () => table().equipment.sumOfSquares],
  ['sum of squares, total', '94.64711222', () => table().total.sumOfSquares],
  ['mean square, appraiser', '1.58363111', () => table().appraiser.meanSquare],
  ['mean square, part', '9.81799272', () => table().part.meanSquare],
  ['mean square, interaction', '0.01994346', () => table().interaction.meanSquare],
  ['mean square, equipment', '0.04598222', () => table().equipment.meanSquare],
  ['F of the interaction', '0.43372', () => present(table().interaction.f)],
  ['p of the interaction', '0.974', () => present(table().interaction.p)],
  ['EV by ranges', '0.201857', () => ranges().repeatability.sd],
  ['AV by ranges', '0.229667', () => ranges().reproducibility.sd],
  ['GRR by ranges', '0.305766', () => ranges().gauge.sd],
  ['PV by ranges', '1.104596', () => ranges().part.sd, 0.000001],
  ['TV by ranges', '1.146135', () => ranges().total.sd, 0.000001],
];

const kept = (): Readonly<Record<string, Component>> => {
  const { table: _, pooled: __, categories: ___, ...components } = study({ poolAbove: 1 }).anova;
  return components;
};
/** Burdick, Borror and Montgomery's formulas written out one by one in Python; the engine has one general rule. */
const LIMITS = {
  repeatability: ['0.0331213726842', '0.0681525246986'],
  appraiser: ['0.0136154860698', '2.08427453814'],
  interaction: ['0', '0.000092038'],
  reproducibility: ['0.00304079827061', '2.07505328206'],
  gauge: ['0.0499206395176', '2.12170693130'],
  part: ['0.513945630210', '3.63346784492'],
  total: ['0.601975039401', '4.43486857889'],
} as const;

const limitPrints = Object.entries(LIMITS).flatMap(([name, [lower, upper]]): Print[] => [
  [`${name}, lower limit of the variance`, lower, () => present(kept()[name]).varianceLimits.lower],
  [`${name}, upper limit of the variance`, upper, () => present(kept()[name]).varianceLimits.upper],
]);

/** Two parts and two appraisers but for what is counted; the readings are such that EV, AV and PV come out as the factors themselves. */
function factorCases(): readonly Print[] {
  const crossed = (
    parts: number,
    appraisers: number,
    trials: number,
    value: (p: number, a: number, t: number) => number,
  ) => {
    const all: StudyReading[] = [];
    for (let part = 0; part < parts; part += 1)
      for (let person = 0; person < appraisers; person += 1)
        for (let trial = 0; trial < trials; trial += 1)
          all.push({ part, appraiser: person, value: value(part, person, trial) });
    return present(gaugeStudy(all).averageAndRange);
  };
  const last = (index: number, count: number) => (index === count - 1 ? 1 : 0);
  const k1 = (n: number) => () => crossed(2, 2, n, (_p, _a, t) => last(t, n)).repeatability.sd;
  const k2 = (n: number) => () => crossed(2, n, 2, (_p, a) => last(a, n)).reproducibility.sd;
  const k3 = (n: number) => () => crossed(n, 2, 2, (p) => last(p, n)).part.sd;
  const many = ['0.7071', '0.5231', '0.4467', '0.4030', '0.3742', '0.3534', '0.3375', '0.3249', '0.3146'];
  return [
    ['K₁ for 2 trials', '0.8862', k1(2)],
    ['K₁ for 3 trials', '0.5908', k1(3)],
    ['K₂ for 2 appraisers', '0.7071', k2(2)],
    ['K₂ for 3 appraisers', '0.5231', k2(3)],
    ...many.map((factor, index): Print => [`K₃ for ${index + 2} parts`, factor, k3(index + 2)]),
  ];
}

const montgomeryReadings = studyReadings(linesOf('gauge-study', 'montgomery-20x3x2.csv'));
const montgomery = () => gaugeStudy(montgomeryReadings).anova;
const montgomeryPrints: readonly Print[] = [
  ['sum of squares, part', '1185.425', () => montgomery().table.part.sumOfSquares],
  ['sum of squares, operator', '2.617', () => montgomery().table.appraiser.sumOfSquares],
  ['sum of squares, interaction', '27.05', () => montgomery().table.interaction.sumOfSquares],
  ['sum of squares, error', '59.5', () => montgomery().table.equipment.sumOfSquares],
  // Summed from unrounded lines.
  ['sum of squares, total', '1274.59', () => montgomery().table.total.sumOfSquares, 0.006],
  ['F of the parts', '87.65', () => present(montgomery().table.part.f)],
  ['F of the operators', '1.84', () => present(montgomery().table.appraiser.f)],
  ['F of the interaction', '0.72', () => present(montgomery().table.interaction.f)],
  ['repeatability, variance', '0.8832', () => montgomery().repeatability.variance],
  ['operator, variance', '0.0106', () => montgomery().reproducibility.variance],
  ['part, variance', '10.2513', () => montgomery().part.variance],
  ['gauge, variance', '0.8938', () => montgomery().gauge.variance],
];

export const cases: readonly PublishedCase[] = [
  ...printed(aiag, byRange, 'by ranges: '),
  ...printed(aiag, byVariance, 'by variance: '),
  ...printed(recomputed, fullPrecision),
  ...printed(limits, limitPrints),
  ...printed(factors, factorCases()),
  ...printed(
    from('Montgomery, Design and Analysis of Experiments, 20 × 3 × 2', 'from memory'),
    montgomeryPrints,
  ),
];

/** The vignette of qualityTools, 10 × 3 × 2; null where its data are not at hand. */
export function qualityToolsCases(): PublishedCase[] | null {
  const lines = keptApart('gauge-rr', 'qualitytools-10x3x2.csv');
  if (!lines) return null;
  const result = () => gaugeStudy(studyReadings(lines)).anova;
  return printed(from('qualityTools vignette, 10 × 3 × 2', 'seen'), [
    ['repeatability, variance', '1.209', () => result().repeatability.variance],
    ['reproducibility, variance', '0.455', () => result().reproducibility.variance],
    ['GRR, variance', '1.664', () => result().gauge.variance],
    ['part, variance', '1.781', () => result().part.variance],
    ['total, variance', '3.446', () => result().total.variance],
    ['repeatability, % contribution', '35', () => result().repeatability.percentContribution],
    ['reproducibility, % contribution', '13', () => result().reproducibility.percentContribution],
    ['GRR, % contribution', '48', () => result().gauge.percentContribution],
    ['part, % contribution', '51.7', () => result().part.percentContribution],
    ['p of the interaction', '0.467', () => present(result().table.interaction.p)],
    ['sum of squares, part', '107.066667', () => result().table.part.sumOfSquares],
    ['sum of squares, interaction', '22.033333', () => result().table.interaction.sumOfSquares],
  ]);
}

/** Six Sigma with R, helicopter times, 3 × 3 × 3; null where the data are not at hand. */
export function sixSigmaCases(): PublishedCase[] | null {
  const lines = keptApart('gauge-rr', 'six-sigma-with-r-3x3x3.csv');
  if (!lines) return null;
  const result = () => gaugeStudy(studyReadings(lines)).anova;
  const pooled = () => present(result().pooled);
  return printed(from('Six Sigma with R, 3 × 3 × 3', 'seen'), [
    ['sum of squares, part', '1.2007', () => result().table.part.sumOfSquares],
    ['sum of squares, appraiser', '0.0529', () => result().table.appraiser.sumOfSquares],
    ['sum of squares, interaction', '0.0834', () => result().table.interaction.sumOfSquares],
    ['sum of squares, error', '0.3854', () => result().table.equipment.sumOfSquares],
    ['F of the parts', '28.797', () => present(result().table.part.f)],
    ['p of the parts', '0.00422', () => present(result().table.part.p)],
    ['F of the appraisers', '1.270', () => present(result().table.appraiser.f)],
    ['p of the appraisers', '0.37415', () => present(result().table.appraiser.p)],
    ['F of the interaction', '0.974', () => present(result().table.interaction.f)],
    ['p of the interaction', '0.44619', () => present(result().table.interaction.p)],
    ['pooled sum of squares', '0.4688', () => pooled().equipment.sumOfSquares],
    ['pooled F of the parts', '28.17', () => present(pooled().part.f), 0.01],
    ['pooled F of the appraisers', '1.24', () => present(pooled().appraiser.f)],
    ['GRR, standard deviation', '0.14792656', () => result().gauge.sd],
    ['repeatability, standard deviation', '0.14597518', () => result().repeatability.sd],
    ['reproducibility, standard deviation', '0.02394813', () => result().reproducibility.sd],
    ['part, standard deviation', '0.25365123', () => result().part.sd],
    ['total, standard deviation', '0.29363449', () => result().total.sd],
    ['GRR, % of study', '50.38', () => result().gauge.percentOfStudy],
    ['part, % of study', '86.38', () => result().part.percentOfStudy],
    ['number of distinct categories', '2', () => result().categories],
  ]);
}
