/** A direction in space, of length 1. */
export type UnitVector = readonly [x: number, y: number, z: number];

/**
 * Which way an indicator and the motion disagree. `leans-on-square-face`: the plunger leans, its tip slides on a face square to the
 * motion; it shows too much. `in-line-with-leaning-rod`: the plunger is in line with a rod that leans from the motion, on the rod's
 * own square end. `tip-caught`: the tip sits in a hole and cannot slide. These two see only a part of the motion and show too little.
 */
export type Misalignment = 'leans-on-square-face' | 'in-line-with-leaning-rod' | 'tip-caught';

/**
 * Cosine of a lean, the factor handbooks print: true = shown × factor for an indicator that leans on a square face. Lean in degrees, either way, within ±90
 * (left out). Source: geometry; "cosine error" in dial indicator makers' tables, tests/published/cosine. @throws RangeError outside.
 */
export function cosineFactor(leanDeg: number): number {
  if (!(Math.abs(leanDeg) < 90)) throw new RangeError('A lean must be less than 90 degrees.');
  return Math.cos((leanDeg * Math.PI) / 180);
}

/**
 * What an indicator shows of a travel `y` (any unit, the same comes back) along `travel`, when its plunger moves along `axis` and its
 * tip slides on a face with `normal`: y (t·n)/(p·n). Source: geometry; the tip stays on the plane.
 * @throws RangeError when a vector's length is not 1 or the plunger does not point into the face (p·n ≤ 0).
 */
export function shownAlong(
  y: number,
  { axis, normal, travel }: { axis: UnitVector; normal: UnitVector; travel: UnitVector },
): number {
  for (const vector of [axis, normal, travel])
    if (!(Math.abs(Math.hypot(...vector) - 1) < 1e-9))
      throw new RangeError('A direction must have length 1.');
  const intoFace = dot(axis, normal);
  if (intoFace <= 0) throw new RangeError('The plunger does not point into the face.');
  return (y * dot(travel, normal)) / intoFace;
}

/**
 * The same for the three cases met in a shop: `y` in any unit, the same comes back; the lean in degrees, within ±90. Source: geometry,
 * as `shownAlong`; tests/published/cosine. @throws RangeError outside.
 */
export function shownLeaning(y: number, leanDeg: number, misalignment: Misalignment): number {
  const factor = cosineFactor(leanDeg);
  return misalignment === 'leans-on-square-face' ? y / factor : y * factor;
}

/**
 * The travel that was there, from what such an indicator shows, in its unit; undoes `shownLeaning`. Lean in degrees, within ±90.
 * Source: geometry; tests/published/cosine. @throws RangeError for a lean outside ±90°.
 */
export function trueFromShown(shown: number, leanDeg: number, misalignment: Misalignment): number {
  const factor = cosineFactor(leanDeg);
  return misalignment === 'leans-on-square-face' ? shown * factor : shown / factor;
}

function dot(a: UnitVector, b: UnitVector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
