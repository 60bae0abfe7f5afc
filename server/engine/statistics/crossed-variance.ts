import type { CrossedReadings } from './crossed-readings.ts';
import { fTest, type VarianceLine, varianceLine } from './one-way.ts';
import { meanOf, sumOfSquares } from './summary.ts';

/** A line with its test against another: `f` and `p` null where neither varies. */
export interface TestedLine extends VarianceLine {
  readonly f: number | null;
  readonly p: number | null;
}

/** Two-way analysis of variance of a crossed study, everything random: part and appraiser are tested against the interaction, that against equipment. */
export interface CrossedTable {
  readonly part: TestedLine;
  readonly appraiser: TestedLine;
  readonly interaction: TestedLine;
  readonly equipment: VarianceLine;
  readonly total: Omit<VarianceLine, 'meanSquare'>;
}

/** The table again with interaction and equipment made one line, which part and appraiser are then tested against. */
export interface PooledTable {
  readonly part: TestedLine;
  readonly appraiser: TestedLine;
  readonly equipment: VarianceLine;
}

/** Sums of squares about a first reading taken off all of them, in two passes, as in `oneWay`. */
export function crossedTable({ parts, appraisers, trials, cells }: CrossedReadings): CrossedTable {
  const [p, o, r] = [parts.length, appraisers.length, trials];
  const origin = cells[0]?.[0]?.[0] ?? 0;
  const shifted = cells.map((row) => row.map((cell) => cell.map((value) => value - origin)));
  const cellMeans = shifted.map((row) => row.map(meanOf));
  const partMeans = cellMeans.map(meanOf);
  const appraiserMeans = appraisers.map((_, a) => meanOf(cellMeans.map((row) => row[a] ?? 0)));
  const grand = meanOf(partMeans);

  const offGrand = (means: readonly number[]) => sumOfSquares(means.map((mean) => mean - grand));
  const interactions = cellMeans.flatMap((row, i) =>
    row.map((mean, j) => mean - (partMeans[i] ?? 0) - (appraiserMeans[j] ?? 0) + grand),
  );
  const withinCells = shifted
    .flatMap((row, i) =>
      row.map((cell, j) => sumOfSquares(cell.map((value) => value - (cellMeans[i]?.[j] ?? 0)))),
    )
    .reduce((sum, squares) => sum + squares, 0);

  const part = varianceLine(o * r * offGrand(partMeans), p - 1);
  const appraiser = varianceLine(p * r * offGrand(appraiserMeans), o - 1);
  const interaction = varianceLine(r * sumOfSquares(interactions), (p - 1) * (o - 1));
  const equipment = varianceLine(withinCells, p * o * (r - 1));
  const whole =
    part.sumOfSquares + appraiser.sumOfSquares + interaction.sumOfSquares + equipment.sumOfSquares;
  return {
    part: { ...part, ...fTest(part, interaction) },
    appraiser: { ...appraiser, ...fTest(appraiser, interaction) },
    interaction: { ...interaction, ...fTest(interaction, equipment) },
    equipment,
    total: { sumOfSquares: whole, degreesOfFreedom: p * o * r - 1 },
  };
}

export function poolInteraction({ part, appraiser, interaction, equipment }: CrossedTable): PooledTable {
  const pooled = varianceLine(
    interaction.sumOfSquares + equipment.sumOfSquares,
    interaction.degreesOfFreedom + equipment.degreesOfFreedom,
  );
  return {
    part: { ...part, ...fTest(part, pooled) },
    appraiser: { ...appraiser, ...fTest(appraiser, pooled) },
    equipment: pooled,
  };
}
