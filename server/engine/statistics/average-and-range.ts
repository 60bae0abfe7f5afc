import type { CrossedReadings } from './crossed-readings.ts';
import { distinctCategories, type Scale, type StudyLine, studyLine } from './study-line.ts';
import { meanOf } from './summary.ts';

/**
 * Standard deviation over the range of a sample of 2, 3, … 25, where there is but one sample: 1/d₂*. K₂ by the number of appraisers, K₃ by that of parts.
 * Source: AIAG, Measurement Systems Analysis, 4th edition, to ten (checked against the definition, 1/√E[R²]); beyond ten from the definition.
 */
const ONE_SAMPLE_IN_TEN_THOUSANDTHS = [
  7071, 5231, 4467, 4030, 3742, 3534, 3375, 3249, 3146, 3059, 2985, 2921, 2864, 2814, 2770, 2729, 2692, 2659,
  2628, 2599, 2573, 2548, 2525, 2504,
];
const ONE_SAMPLE = ONE_SAMPLE_IN_TEN_THOUSANDTHS.map((factor) => factor / 10_000);

/** The same where there are many samples, 1/d₂: K₁ by the number of trials, 2 to 10. Source: as above for 2 and 3; the rest from the definition, 1/E[R]. */
const MANY_SAMPLES = [0.8862, 0.5908, 0.4857, 0.4299, 0.3946, 0.3698, 0.3512, 0.3367, 0.3249] as const;

/** Control limits of a range by the number of trials, as multiples of the mean range. Source: tables of control chart factors D₃ and D₄, from memory, checked against 1 ± 3d₃/d₂. */
const UPPER_RANGE = [3.267, 2.574, 2.282, 2.114, 2.004, 1.924, 1.864, 1.816, 1.777] as const;
const LOWER_RANGE = [0, 0, 0, 0, 0, 0.076, 0.136, 0.184, 0.223] as const;

export interface CellRange {
  readonly part: string | number;
  readonly appraiser: string | number;
  readonly range: number;
}

/** Ranges of the trials in each cell against their control limits. A cell outside says that those trials differ by more than the others' scatter explains. */
export interface RangeChart {
  readonly meanRange: number;
  readonly lower: number;
  readonly upper: number;
  readonly cells: readonly CellRange[];
  readonly outside: readonly CellRange[];
}

export interface AverageAndRange {
  readonly meanRangeByAppraiser: readonly number[];
  readonly meanByAppraiser: readonly number[];
  /** Largest less smallest appraiser mean. */
  readonly appraiserSpread: number;
  /** Largest less smallest part mean. */
  readonly partSpread: number;
  /** EV. */
  readonly repeatability: StudyLine;
  /** AV; 0 where the scatter of the readings explains all of the spread. */
  readonly reproducibility: StudyLine;
  /** GRR. */
  readonly gauge: StudyLine;
  /** PV. */
  readonly part: StudyLine;
  /** TV. */
  readonly total: StudyLine;
  readonly categories: number;
}

const spreadOf = (values: readonly number[]) => Math.max(...values) - Math.min(...values);

/** The range chart of a study with 2 to 10 trials; null with more. */
export function rangeChart({ parts, appraisers, trials, cells }: CrossedReadings): RangeChart | null {
  const [lower, upper] = [LOWER_RANGE[trials - 2], UPPER_RANGE[trials - 2]];
  if (lower === undefined || upper === undefined) return null;
  const ranges = parts.flatMap((part, p) =>
    appraisers.map((appraiser, a) => ({ part, appraiser, range: spreadOf(cells[p]?.[a] ?? []) })),
  );
  const meanRange = meanOf(ranges.map(({ range }) => range));
  const [low, high] = [lower * meanRange, upper * meanRange];
  const outside = ranges.filter(({ range }) => range < low || range > high);
  return { meanRange, lower: low, upper: high, cells: ranges, outside };
}

/**
 * The study by averages and ranges: EV = R̿ K₁, AV² = (X̄diff K₂)² − EV²/(parts × trials) or 0, PV = Rp K₃. Null where there are more parts, appraisers or
 * trials than the constants go to. Source: AIAG, Measurement Systems Analysis, 4th edition.
 */
export function averageAndRange(
  readings: CrossedReadings,
  scale: Omit<Scale, 'totalVariance'>,
): AverageAndRange | null {
  const { parts, appraisers, trials, cells } = readings;
  const k1 = MANY_SAMPLES[trials - 2];
  const k2 = ONE_SAMPLE[appraisers.length - 2];
  const k3 = ONE_SAMPLE[parts.length - 2];
  if (k1 === undefined || k2 === undefined || k3 === undefined) return null;

  const ofAppraiser = appraisers.map((_, a) => cells.map((row) => row[a] ?? []));
  const meanRangeByAppraiser = ofAppraiser.map((column) => meanOf(column.map(spreadOf)));
  const meanByAppraiser = ofAppraiser.map((column) => meanOf(column.flat()));
  const appraiserSpread = spreadOf(meanByAppraiser);
  const partSpread = spreadOf(cells.map((row) => meanOf(row.flat())));

  const repeatability = (meanOf(meanRangeByAppraiser) * k1) ** 2;
  const reproducibility = Math.max(0, (appraiserSpread * k2) ** 2 - repeatability / (parts.length * trials));
  const gauge = repeatability + reproducibility;
  const part = (partSpread * k3) ** 2;
  const line = (variance: number) => studyLine(variance, { ...scale, totalVariance: gauge + part });
  return {
    meanRangeByAppraiser,
    meanByAppraiser,
    appraiserSpread,
    partSpread,
    repeatability: line(repeatability),
    reproducibility: line(reproducibility),
    gauge: line(gauge),
    part: line(part),
    total: line(gauge + part),
    categories: distinctCategories(line(part), line(gauge)),
  };
}
