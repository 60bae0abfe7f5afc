/**
 * Lengths and torque. Inside the engine a length is in millimetres; a reading belongs to a dial, in that dial's unit.
 * Source: exact definitions, NIST SP 811 appendix B (1 in = 25.4 mm; 1 lb = 0.453 592 37 kg; g = 9.806 65 m/s²).
 */
export type LengthUnit = 'in' | 'mm';

/** Millimetres in one inch, exact. */
export const MM_PER_IN = 25.4;

/** Newton metres in one pound-force foot, exact: 0.3048 m × 0.453 592 37 kg × 9.806 65 m/s². */
export const NM_PER_LBF_FT = 0.3048 * 0.45359237 * 9.80665;

/** A length in `unit`, as millimetres. Any finite number; NaN stays NaN. Never throws. Source: NIST SP 811, 1 in = 25.4 mm. */
export function toMm(length: number, unit: LengthUnit): number {
  return unit === 'in' ? length * MM_PER_IN : length;
}

/** A length in millimetres, in `unit`. Any finite number; NaN stays NaN. Never throws. Source: NIST SP 811, 1 in = 25.4 mm. */
export function fromMm(lengthMm: number, unit: LengthUnit): number {
  return unit === 'in' ? lengthMm / MM_PER_IN : lengthMm;
}

/** A length in one unit, in the other. Any finite number; NaN stays NaN. Never throws. Source: NIST SP 811, 1 in = 25.4 mm. */
export function convertLength(length: number, from: LengthUnit, to: LengthUnit): number {
  return from === to ? length : fromMm(toMm(length, from), to);
}
