/** One source of variation in a gauge study. */
export interface StudyLine {
  /** In the unit of the readings, squared. */
  readonly variance: number;
  readonly sd: number;
  /** `studyWidth` standard deviations. */
  readonly studyVariation: number;
  /** Standard deviation as a percentage of the whole one. The column does not add up to 100. */
  readonly percentOfStudy: number;
  /** Variance as a percentage of the whole one; this column does. */
  readonly percentContribution: number;
  /** Study variation as a percentage of the tolerance; null where none was given. */
  readonly percentOfTolerance: number | null;
}

export interface Scale {
  readonly totalVariance: number;
  readonly studyWidth: number;
  readonly tolerance: number | null;
}

/** Percentages are 0 where nothing varies at all. */
export function studyLine(variance: number, { totalVariance, studyWidth, tolerance }: Scale): StudyLine {
  const sd = Math.sqrt(variance);
  const share = totalVariance > 0 ? variance / totalVariance : 0;
  return {
    variance,
    sd,
    studyVariation: studyWidth * sd,
    percentOfStudy: 100 * Math.sqrt(share),
    percentContribution: 100 * share,
    percentOfTolerance: tolerance === null ? null : (100 * studyWidth * sd) / tolerance,
  };
}

/**
 * Number of distinct categories: how many groups of parts the gauge can tell apart, 1.41 × PV/GRR cut to a whole number. Infinite where the gauge does not
 * vary, 0 where nothing does. Source: AIAG, Measurement Systems Analysis, 4th edition.
 */
export function distinctCategories(part: StudyLine, gauge: StudyLine): number {
  if (part.sd === 0) return 0;
  return Math.floor((1.41 * part.sd) / gauge.sd);
}
