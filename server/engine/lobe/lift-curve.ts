import { wrapDegrees } from '../angles.ts';
import { type MotionLawName, motionLaw } from './motion-law.ts';

/**
 * One injection lobe as the roller follower sees it. Injection lobes are not symmetric: a short rise, a long fall.
 * Lengths in millimetres, cam angles in degrees of cam, measured from the middle of the nose, forward positive.
 */
export interface Lobe {
  readonly law: MotionLawName;
  /** Height of the nose over the base circle as made. */
  readonly liftMm: number;
  /** Common practice, no source: 45 to 55°. */
  readonly riseCamDeg: number;
  /** 0 to 15°. */
  readonly dwellCamDeg: number;
  /** 60 to 120°. */
  readonly fallCamDeg: number;
  /** Crank angle, 0 to 720 from cylinder 1's firing top dead centre, at which the middle of the nose is under the roller. */
  readonly noseCrankDeg: number;
  readonly condition: LobeCondition;
}

/** What use has done to a lobe. */
export interface LobeCondition {
  /** Taken off the nose. */
  readonly wearMm: number;
  readonly buildUp: BuildUp | null;
  /** The whole lobe moves by `runOutMm` × cos(cam angle − phase). */
  readonly runOutMm: number;
  readonly runOutPhaseCamDeg: number;
}

/** A deposit, as wide as the roller makes it. */
export interface BuildUp {
  readonly place: 'nose' | 'flank' | 'base';
  readonly heightMm: number;
  readonly atCamDeg: number;
  readonly halfWidthCamDeg: number;
}

export const SOUND: LobeCondition = { wearMm: 0, buildUp: null, runOutMm: 0, runOutPhaseCamDeg: 0 };

/**
 * Height of the roller over the true base circle at a cam angle from the middle of the nose, in millimetres; the angle in degrees of cam, any
 * finite one. Source: the motion law of each flank (`motionLaw`); wear, deposits and run-out are common practice, no source.
 * @throws RangeError for a lobe whose motion law has no such name.
 */
export function displacementMm(lobe: Lobe, fromNoseCamDeg: number): number {
  return displacementOf(lobe)(fromNoseCamDeg);
}

/**
 * The same for many angles of one lobe: what does not hang on the angle is worked out once, and a base circle as it was made costs
 * nothing but a comparison.
 */
export function displacementOf(lobe: Lobe): (fromNoseCamDeg: number) => number {
  const { law, liftMm, dwellCamDeg, riseCamDeg, fallCamDeg, condition } = lobe;
  const { wearMm, buildUp, runOutMm, runOutPhaseCamDeg } = condition;
  const { displacement } = motionLaw(law);
  const halfDwell = dwellCamDeg / 2;
  const onBaseMm = onBaseOf(buildUp, runOutMm, runOutPhaseCamDeg);
  return (fromNoseCamDeg) => {
    const angle = wrapDegrees(fromNoseCamDeg, 360);
    const flank = angle < 0 ? riseCamDeg : fallCamDeg;
    const offNose = Math.abs(angle) - halfDwell;
    if (offNose >= flank) return onBaseMm === null ? 0 : onBaseMm(angle);
    const madeMm = offNose <= 0 ? liftMm : liftMm * displacement(1 - offNose / flank);
    const wornMm = wearMm === 0 ? 0 : wearMm * raisedCosine(angle / (halfDwell + flank));
    const heightMm = Math.max(0, madeMm - wornMm);
    return onBaseMm === null ? heightMm : heightMm + onBaseMm(angle);
  };
}

/** What lies on the curve or moves all of it: a deposit, run-out; null where there is neither. */
function onBaseOf(
  buildUp: BuildUp | null,
  runOutMm: number,
  phaseCamDeg: number,
): ((angle: number) => number) | null {
  if (buildUp === null && runOutMm === 0) return null;
  return (angle) => {
    const builtUpMm =
      buildUp === null
        ? 0
        : buildUp.heightMm *
          raisedCosine(wrapDegrees(angle - buildUp.atCamDeg, 360) / buildUp.halfWidthCamDeg);
    const movedMm = runOutMm === 0 ? 0 : runOutMm * Math.cos(((angle - phaseCamDeg) * Math.PI) / 180);
    return builtUpMm + movedMm;
  };
}

/** 1 in the middle, 0 from ±1 outwards. */
function raisedCosine(x: number): number {
  return Math.abs(x) >= 1 ? 0 : (1 + Math.cos(Math.PI * x)) / 2;
}

export interface Extremes {
  readonly highestMm: number;
  readonly lowestMm: number;
}

const COARSE_DEG = 0.5;
const FINE_DEG = 0.025;

/** Highest and lowest place of the roller over a whole turn of the cam, found to better than a tenth of a micrometre. */
export function extremes(lobe: Lobe): Extremes {
  let highestAt = -180;
  let lowestAt = -180;
  let highestMm = Number.NEGATIVE_INFINITY;
  let lowestMm = Number.POSITIVE_INFINITY;
  const heightMm = displacementOf(lobe);
  for (let angle = -180; angle < 180; angle += COARSE_DEG) {
    const y = heightMm(angle);
    if (y > highestMm) [highestMm, highestAt] = [y, angle];
    if (y < lowestMm) [lowestMm, lowestAt] = [y, angle];
  }
  for (let off = FINE_DEG - COARSE_DEG; off < COARSE_DEG; off += FINE_DEG) {
    highestMm = Math.max(highestMm, heightMm(highestAt + off));
    lowestMm = Math.min(lowestMm, heightMm(lowestAt + off));
  }
  return { highestMm, lowestMm };
}

/**
 * Highest place of the base circle itself, leaving out what has built up on it: run-out is all that can lift a careful zero.
 * Within a thousandth of the run-out.
 */
export function highestOfBaseMm(lobe: Lobe): number {
  if (lobe.condition.runOutMm === 0) return 0;
  const begins = lobe.dwellCamDeg / 2 + lobe.fallCamDeg;
  const ends = 360 - lobe.dwellCamDeg / 2 - lobe.riseCamDeg;
  const { runOutMm, runOutPhaseCamDeg } = lobe.condition;
  const movedMm = onBaseOf(null, runOutMm, runOutPhaseCamDeg);
  let highestMm = Number.NEGATIVE_INFINITY;
  for (let angle = begins; angle <= ends; angle += 2) highestMm = Math.max(highestMm, movedMm?.(angle) ?? 0);
  return highestMm;
}
