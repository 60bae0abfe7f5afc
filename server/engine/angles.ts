/** An angle brought into (−period/2, period/2]. Any finite angle in degrees; the period in degrees, positive. */
export function wrapDegrees(angleDeg: number, period: number): number {
  // Mostly it is there already, and a remainder costs ten times the comparison.
  if (angleDeg > -period / 2 && angleDeg <= period / 2) return angleDeg + 0;
  const wrapped = positiveRemainder(angleDeg, period);
  return wrapped > period / 2 ? wrapped - period : wrapped;
}

/** The remainder that is never negative, on [0, modulus). */
export function positiveRemainder(value: number, modulus: number): number {
  const remainder = value % modulus;
  const positive = remainder < 0 ? remainder + modulus : remainder;
  // A value a hair below zero rounds up to the modulus itself.
  return positive >= modulus ? 0 : positive + 0;
}

export function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}
