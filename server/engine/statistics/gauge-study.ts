import { type AverageAndRange, averageAndRange, type RangeChart, rangeChart } from './average-and-range.ts';
import { crossReadings, type StudyReading } from './crossed-readings.ts';
import { type CrossedTable, crossedTable, type PooledTable, poolInteraction } from './crossed-variance.ts';
import { distinctCategories, type Scale, type StudyLine, studyLine } from './study-line.ts';
import { type Limits, type VarianceTerm, varianceLimits } from './variance-limits.ts';

export interface GaugeStudyOptions {
  /** The interaction is made one with the equipment when its p-value is above this; 0 to 1, 0.25 when left out. */
  readonly poolAbove?: number;
  /** Width of the tolerance, in the unit of the readings; the percentages of it are null when left out. */
  readonly tolerance?: number;
  /** Standard deviations in a study variation; 6 when left out. */
  readonly studyWidth?: number;
  /** Of the confidence limits; 0.95 when left out. */
  readonly confidence?: number;
}

/** A source of variation by the analysis of variance, with confidence limits of its variance. */
export interface Component extends StudyLine {
  readonly varianceLimits: Limits;
}

export interface VarianceStudy {
  readonly table: CrossedTable;
  /** The table with interaction and equipment made one; null where the interaction stayed. */
  readonly pooled: PooledTable | null;
  /** EV: the same appraiser, the same part, again. */
  readonly repeatability: Component;
  /** Between appraisers, whatever the part. */
  readonly appraiser: Component;
  /** Appraisers differing by part; 0 where it was pooled. */
  readonly interaction: Component;
  /** AV: appraiser and interaction together. */
  readonly reproducibility: Component;
  /** GRR: repeatability and reproducibility together. */
  readonly gauge: Component;
  /** PV. */
  readonly part: Component;
  /** TV. */
  readonly total: Component;
  /** Number of distinct categories (ndc). */
  readonly categories: number;
}

export interface GaugeStudy {
  readonly parts: readonly (string | number)[];
  readonly appraisers: readonly (string | number)[];
  readonly trials: number;
  readonly anova: VarianceStudy;
  /** Null beyond 25 parts or appraisers, or 10 trials. */
  readonly averageAndRange: AverageAndRange | null;
  /** Null beyond 10 trials. */
  readonly ranges: RangeChart | null;
}

/**
 * Repeatability and reproducibility of a gauge from a crossed study, by the analysis of variance and by averages and ranges. The two need not agree, on
 * the number of categories either. Components below 0 are set to 0. All values are in the unit of the readings.
 * Source: AIAG, Measurement Systems Analysis, 4th edition; confidence limits see `varianceLimits`.
 * @throws RangeError for a design that is not balanced (the message names the cell), fewer than two parts, appraisers or trials, a reading that is not
 * finite, or an option outside its range.
 */
export function gaugeStudy(readings: readonly StudyReading[], options: GaugeStudyOptions = {}): GaugeStudy {
  const { poolAbove = 0.25, tolerance = null, studyWidth = 6, confidence = 0.95 } = options;
  if (!(poolAbove >= 0 && poolAbove <= 1)) throw new RangeError('poolAbove must be 0 to 1.');
  if (tolerance !== null && !(tolerance > 0 && Number.isFinite(tolerance)))
    throw new RangeError('The tolerance must be above 0.');
  if (!(studyWidth > 0 && Number.isFinite(studyWidth)))
    throw new RangeError('The study width must be above 0.');
  if (!(confidence > 0 && confidence < 1)) throw new RangeError('The confidence must lie between 0 and 1.');

  const crossed = crossReadings(readings);
  const { parts, appraisers, trials } = crossed;
  const scale = { tolerance, studyWidth };
  const table = crossedTable(crossed);
  return {
    parts,
    appraisers,
    trials,
    anova: varianceStudy(table, [parts.length, appraisers.length, trials], { poolAbove, confidence, scale }),
    averageAndRange: averageAndRange(crossed, scale),
    ranges: rangeChart(crossed),
  };
}

/** What each mean square counts for in a component; the order is part, appraiser, interaction, equipment. */
type Weights = readonly [part: number, appraiser: number, interaction: number, equipment: number];

function varianceStudy(
  table: CrossedTable,
  [p, o, r]: readonly [parts: number, appraisers: number, trials: number],
  settings: { poolAbove: number; confidence: number; scale: Omit<Scale, 'totalVariance'> },
): VarianceStudy {
  // With no scatter and no interaction there is nothing to keep apart.
  const pooled = (table.interaction.p ?? 1) > settings.poolAbove ? poolInteraction(table) : null;
  const terms = ([ofPart, ofAppraiser, ofInteraction, ofEquipment]: Weights): VarianceTerm[] => [
    { coefficient: ofPart, line: table.part },
    { coefficient: ofAppraiser, line: table.appraiser },
    ...(pooled
      ? [{ coefficient: ofInteraction + ofEquipment, line: pooled.equipment }]
      : [
          { coefficient: ofInteraction, line: table.interaction },
          { coefficient: ofEquipment, line: table.equipment },
        ]),
  ];
  const estimate = (weights: Weights) =>
    Math.max(
      0,
      terms(weights).reduce((sum, { coefficient, line }) => sum + coefficient * line.meanSquare, 0),
    );

  const weights = {
    repeatability: [0, 0, 0, 1],
    appraiser: [0, 1 / (p * r), -1 / (p * r), 0],
    interaction: [0, 0, 1 / r, -1 / r],
    reproducibility: [0, 1 / (p * r), (p - 1) / (p * r), -1 / r],
    gauge: [0, 1 / (p * r), (p - 1) / (p * r), (r - 1) / r],
    part: [1 / (o * r), 0, -1 / (o * r), 0],
    total: [1 / (o * r), 1 / (p * r), (p * o - p - o) / (p * o * r), (r - 1) / r],
  } as const satisfies Record<string, Weights>;

  const repeatability = estimate(weights.repeatability);
  const appraiser = estimate(weights.appraiser);
  const interaction = estimate(weights.interaction);
  const part = estimate(weights.part);
  // The sums are of what is left after negative components were set to 0.
  const gauge = repeatability + appraiser + interaction;
  const scale = { ...settings.scale, totalVariance: gauge + part };
  const component = (variance: number, own: Weights): Component => ({
    ...studyLine(variance, scale),
    varianceLimits: varianceLimits(terms(own), settings.confidence),
  });
  const ofGauge = component(gauge, weights.gauge);
  const ofPart = component(part, weights.part);
  return {
    table,
    pooled,
    repeatability: component(repeatability, weights.repeatability),
    appraiser: component(appraiser, weights.appraiser),
    interaction: component(interaction, weights.interaction),
    reproducibility: component(appraiser + interaction, weights.reproducibility),
    gauge: ofGauge,
    part: ofPart,
    total: component(gauge + part, weights.total),
    categories: distinctCategories(ofPart, ofGauge),
  };
}
