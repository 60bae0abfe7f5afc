/** Whether the bezel is 50 mm and over, or the gauge is small or has its plunger at the back: the small ones are allowed more. */
export type IndicatorBuild = 'bezel-50-and-over' | 'bezel-under-50-or-back-plunger';

/** What a dial indicator may be wrong by, micrometres. Spans (largest less smallest error), not plus or minus. */
export interface IndicatorLimits {
  readonly build: IndicatorBuild;
  readonly graduationMm: number;
  /** Longest range the row holds for, millimetres; it begins where the row before it ends. */
  readonly rangeUpToMm: number;
  /** Largest difference at one point between going in and coming back. */
  readonly retraceUm: number;
  readonly repeatabilityUm: number;
  readonly tenthTurnUm: number;
  readonly halfTurnUm: number;
  readonly oneTurnUm: number;
  readonly wholeRangeUm: number;
}

/**
 * Maximum permissible errors of dial indicators. Source: JIS B 7503:2011 in the extract "Dial Indicator Standard B7503 : 2011" of a
 * maker's catalogue (2016, index 429). The stored text runs the digits together; the split into columns is ours.
 */
export const INDICATOR_LIMITS: readonly IndicatorLimits[] = [
  ...rows('bezel-50-and-over', 0.01, [
    [1, 3, 3, 5, 8, 8, 8],
    [3, 3, 3, 5, 8, 9, 10],
    [5, 3, 3, 5, 9, 10, 12],
    [10, 3, 3, 5, 9, 10, 15],
    [20, 5, 4, 8, 10, 15, 25],
    [30, 7, 5, 10, 12, 15, 30],
    [50, 8, 5, 10, 12, 15, 40],
    [100, 9, 5, 12, 17, 20, 50],
  ]),
  ...rows('bezel-50-and-over', 0.005, [[5, 3, 3, 5, 9, 10, 12]]),
  ...rows('bezel-50-and-over', 0.001, [
    [1, 2, 0.5, 2, 3.5, 4, 5],
    [2, 2, 0.5, 2, 4, 5, 7],
    [5, 3, 1, 3.5, 5, 6, 10],
  ]),
  ...rows('bezel-under-50-or-back-plunger', 0.01, [
    [1, 4, 3, 8, 11, 12, 15],
    [3, 4, 3, 8, 11, 12, 16],
    [5, 4, 3, 8, 12, 14, 18],
    [10, 5, 3, 9, 12, 14, 20],
  ]),
  ...rows('bezel-under-50-or-back-plunger', 0.005, [[5, 3.5, 3, 6, 9, 10, 12]]),
  ...rows('bezel-under-50-or-back-plunger', 0.002, [[1, 2.5, 1, 2.5, 4.5, 5, 6]]),
  ...rows('bezel-under-50-or-back-plunger', 0.001, [[1, 2, 1, 2.5, 4, 4.5, 5]]),
];

/**
 * The limits for a gauge of that graduation and measuring range, millimetres; a range on the edge of two rows belongs to the shorter
 * one, as printed. Undefined where the standard's table has no row, inch gauges among them. Never throws. Source: JIS B 7503, as at
 * `INDICATOR_LIMITS`.
 */
export function findIndicatorLimits(
  graduationMm: number,
  rangeMm: number,
  build: IndicatorBuild = 'bezel-50-and-over',
): IndicatorLimits | undefined {
  if (!(rangeMm > 0)) return undefined;
  return INDICATOR_LIMITS.find(
    (row) => row.build === build && row.graduationMm === graduationMm && rangeMm <= row.rangeUpToMm,
  );
}

type Row = readonly [
  rangeUpToMm: number,
  retrace: number,
  repeatability: number,
  tenth: number,
  half: number,
  one: number,
  whole: number,
];

function rows(build: IndicatorBuild, graduationMm: number, printed: readonly Row[]): IndicatorLimits[] {
  return printed.map(([rangeUpToMm, retraceUm, repeatabilityUm, tenth, half, one, wholeRangeUm]) => ({
    build,
    graduationMm,
    rangeUpToMm,
    retraceUm,
    repeatabilityUm,
    tenthTurnUm: tenth,
    halfTurnUm: half,
    oneTurnUm: one,
    wholeRangeUm,
  }));
}
