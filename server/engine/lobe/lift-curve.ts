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

/** Height of the roller over the true base circle at a cam angle from the middle of the nose, in millimetres. Any finite angle. */
export function displacementMm(lobe: Lobe, fromNoseCamDeg: number): number {
  const angle = wrapDegrees(fromNoseCamDeg, 360);
  return (
    Math.max(0, nominalMm(lobe, angle) - wornMm(lobe, angle)) + builtUpMm(lobe, angle) + runOutMm(lobe, angle)
  );
}

function wornMm(lobe: Lobe, angle: number): number {
  const { wearMm } = lobe.condition;
  return wearMm === 0 ? 0 : wearMm * raisedCosine(angle / eventHalfWidth(lobe, angle));
}

function builtUpMm({ condition: { buildUp } }: Lobe, angle: number): number {
  if (buildUp === null) return 0;
  return (
    buildUp.heightMm * raisedCosine(wrapDegrees(angle - buildUp.atCamDeg, 360) / buildUp.halfWidthCamDeg)
  );
}

function runOutMm({ condition }: Lobe, angle: number): number {
  if (condition.runOutMm === 0) return 0;
  return condition.runOutMm * Math.cos(((angle - condition.runOutPhaseCamDeg) * Math.PI) / 180);
}

/** The lift curve as made. */
function nominalMm(lobe: Lobe, angle: number): number {
  const offNose = Math.abs(angle) - lobe.dwellCamDeg / 2;
  if (offNose <= 0) return lobe.liftMm;
  const flank = angle < 0 ? lobe.riseCamDeg : lobe.fallCamDeg;
  return lobe.liftMm * motionLaw(lobe.law).displacement(1 - offNose / flank);
}

function eventHalfWidth(lobe: Lobe, angle: number): number {
  return lobe.dwellCamDeg / 2 + (angle < 0 ? lobe.riseCamDeg : lobe.fallCamDeg);
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
  for (let angle = -180; angle < 180; angle += COARSE_DEG) {
    const y = displacementMm(lobe, angle);
    if (y > highestMm) [highestMm, highestAt] = [y, angle];
    if (y < lowestMm) [lowestMm, lowestAt] = [y, angle];
  }
  for (let off = FINE_DEG - COARSE_DEG; off < COARSE_DEG; off += FINE_DEG) {
    highestMm = Math.max(highestMm, displacementMm(lobe, highestAt + off));
    lowestMm = Math.min(lowestMm, displacementMm(lobe, lowestAt + off));
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
  let highestMm = Number.NEGATIVE_INFINITY;
  for (let angle = begins; angle <= ends; angle += 2) highestMm = Math.max(highestMm, runOutMm(lobe, angle));
  return highestMm;
}
