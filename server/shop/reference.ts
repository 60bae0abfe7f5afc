import {
  convertLength,
  type LengthUnit,
  repeatabilityPart,
  resolutionPart,
  uncertaintyBudget,
} from '../engine/index.ts';

/** How far three set-ups may lie apart, and for how long what they gave holds. Common practice, no source. */
export const SPREAD: Readonly<Record<LengthUnit, number>> = { in: 0.002, mm: 0.05 };
export const HOLDS_DAYS = 30;

export interface ThreeReadings {
  readonly unit: LengthUnit;
  readonly readings: readonly [number, number, number];
  readonly at: string;
}

/** What a lobe's lift is known to be, in `unit`. */
export interface Reference {
  readonly unit: LengthUnit;
  readonly mean: number;
  /** Largest less smallest. */
  readonly spread: number;
  /** Expanded uncertainty of the mean, 95 %, and its coverage factor. */
  readonly expanded: number;
  readonly k: number;
  readonly at: string;
}

export type ReferenceState = 'holds' | 'spread-too-wide' | 'too-old' | 'worked-on' | 'none';

/**
 * The mean of three separate set-ups and how well it is known: their scatter (s/√3, two degrees of freedom) and the resolution of the gauge.
 * `graduation` in the readings' unit, above 0. Source: GUM 4.2.3 and 4.3.7 through `uncertaintyBudget`; three set-ups are common practice, no source.
 * @throws RangeError for a reading that is not finite.
 */
export function referenceOf({ unit, readings, at }: ThreeReadings, graduation: number): Reference {
  const { expanded, k } = uncertaintyBudget([repeatabilityPart(readings), resolutionPart(graduation)]);
  return {
    ...{ unit, at, expanded, k },
    mean: readings.reduce((sum, reading) => sum + reading, 0) / readings.length,
    spread: Math.max(...readings) - Math.min(...readings),
  };
}

/** Does a reference hold at `now`? `workedOnAt` is when the engine was last worked on. Instants are ISO 8601 in UTC. */
export function referenceState(
  reference: Pick<Reference, 'unit' | 'spread' | 'at'> | null,
  workedOnAt: string | null,
  now: string,
): ReferenceState {
  if (reference === null) return 'none';
  // A hair over, so that 0.214 and 0.216 are two thousandths apart in binary too.
  if (reference.spread > SPREAD[reference.unit] + 1e-9) return 'spread-too-wide';
  if (workedOnAt !== null && workedOnAt >= reference.at) return 'worked-on';
  if (Date.parse(now) - Date.parse(reference.at) > HOLDS_DAYS * 86_400_000) return 'too-old';
  return 'holds';
}

/** A reference in another unit. */
export function referenceIn(reference: Reference, unit: LengthUnit): Reference {
  const convert = (length: number) => convertLength(length, reference.unit, unit);
  return {
    ...reference,
    unit,
    mean: convert(reference.mean),
    spread: convert(reference.spread),
    expanded: convert(reference.expanded),
  };
}
