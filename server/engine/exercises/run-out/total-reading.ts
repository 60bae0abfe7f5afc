/**
 * Total indicator reading: largest less smallest reading of a turn, in the readings' unit. Source: full indicator movement, ASME Y14.5.
 * At least one reading, all finite.
 * @throws RangeError for no readings, or one that is not finite.
 */
export function totalReading(readings: readonly number[]): number {
  if (readings.length === 0 || !readings.every(Number.isFinite))
    throw new RangeError('A total indicator reading needs readings that are finite numbers.');
  return Math.max(...readings) - Math.min(...readings);
}

/**
 * Eccentricity of a round part, half its total indicator reading, in the same unit. Any reading, 0 or more. Never throws.
 * Source: geometry, a circle off centre by e reads 2e.
 */
export function eccentricityFrom(totalIndicatorReading: number): number {
  return totalIndicatorReading / 2;
}

/** What is measured of a flywheel housing's bore, each as read, in one unit. */
export interface BoreReadings {
  /** Zero at 6 o'clock; read at 9, 12 and 3. */
  readonly nine: number;
  readonly twelve: number;
  readonly three: number;
  /** Bearing clearance: what lifting the crank shows at 12, always plus. */
  readonly lift: number;
}

/**
 * Run-out of a housing bore, corrected for the crank lying low in its bearings by the clearance. Source: SAE J1033 as told at
 * dieselmechanic.info: horizontal is 9 less 3, vertical is 12 plus the lift. Any finite readings; the unit is theirs.
 * Never throws.
 */
export function boreRunOut({ nine, twelve, three, lift }: BoreReadings): {
  readonly horizontal: number;
  readonly vertical: number;
} {
  return { horizontal: nine - three, vertical: twelve + lift };
}
