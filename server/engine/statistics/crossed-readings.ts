import { checkFinite } from './summary.ts';

/** One reading of a gauge study: which part, by whom, and what was read. Names are compared as they are: 1 and '1' differ. */
export interface StudyReading {
  readonly part: string | number;
  readonly appraiser: string | number;
  readonly value: number;
}

/** Every part read by every appraiser the same number of times: `cells[part][appraiser]` holds the trials. */
export interface CrossedReadings {
  readonly parts: readonly (string | number)[];
  readonly appraisers: readonly (string | number)[];
  readonly trials: number;
  readonly cells: readonly (readonly (readonly number[])[])[];
}

/**
 * Sorts readings into cells, parts and appraisers in the order they first appear.
 * @throws RangeError for fewer than two parts, appraisers or trials, a value that is not finite, or a cell with more or fewer readings than the
 * first; the message names the cell.
 */
export function crossReadings(readings: readonly StudyReading[]): CrossedReadings {
  checkFinite(readings.map(({ value }) => value));
  const parts = [...new Set(readings.map(({ part }) => part))];
  const appraisers = [...new Set(readings.map(({ appraiser }) => appraiser))];
  if (parts.length < 2) throw new RangeError('A gauge study needs at least two parts.');
  if (appraisers.length < 2) throw new RangeError('A gauge study needs at least two appraisers.');
  const cells = parts.map(() => appraisers.map(() => [] as number[]));
  const placeOfPart = new Map(parts.map((part, place) => [part, place]));
  const placeOfAppraiser = new Map(appraisers.map((appraiser, place) => [appraiser, place]));
  for (const { part, appraiser, value } of readings)
    cells[placeOfPart.get(part) ?? 0]?.[placeOfAppraiser.get(appraiser) ?? 0]?.push(value);

  const trials = cells[0]?.[0]?.length ?? 0;
  for (const [p, row] of cells.entries())
    for (const [a, cell] of row.entries())
      if (cell.length !== trials)
        throw new RangeError(
          `Part ${parts[p]}, appraiser ${appraisers[a]} has ${cell.length} readings where part ${parts[0]}, appraiser ${appraisers[0]} has ${trials}: every cell needs as many.`,
        );
  if (trials < 2)
    throw new RangeError('A gauge study needs at least two trials of each part by each appraiser.');
  return { parts, appraisers, trials, cells };
}
