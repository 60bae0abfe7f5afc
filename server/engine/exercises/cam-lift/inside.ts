import { positiveRemainder } from '../../angles.ts';
import { displacementOf } from '../../lobe/lift-curve.ts';
import { type CamLiftBench, lobeAt } from './bench.ts';
import type { CamLiftState } from './state.ts';
import { stepCamLift } from './step.ts';
import type { CamLiftAction } from './types.ts';

/** What a section through the engine would show at one moment. */
export interface CamInside {
  /** Cam, turned clockwise from the nose under the roller, 0 to 360. */
  readonly camDeg: number;
  /** Tappet over the true base circle, millimetres. */
  readonly tappetMm: number;
}

/** A section that stands still: besides, the lift curve of the lobe there, a point a degree of cam. */
export interface CamSection extends CamInside {
  readonly position: number;
  readonly liftCurve: readonly (readonly [camDeg: number, liftMm: number])[];
}

/**
 * The section through the lobe that is being worked on; null before a pump position is chosen. Hidden truth: for practice, lessons and graded
 * attempts, never for a graded run that goes on. Degrees of cam, millimetres. Never throws. Source: `displacementMm`.
 */
export function camSection(bench: CamLiftBench, state: CamLiftState): CamSection | null {
  const { position } = state;
  if (position === null) return null;
  const height = displacementOf(lobeAt(bench, position).lobe);
  const liftCurve = Array.from({ length: 361 }, (_, deg) => [deg, height(deg)] as const);
  return { position, liftCurve, ...insideAt(bench, position, state.camCrankDeg, state.tappet.heightMm) };
}

/**
 * What the section shows all through an action, moment by moment as in its `seen`. Degrees of cam, millimetres; hidden truth as in
 * `camSection`. Never throws. Source: as for `act`.
 */
export function camSectionRun(bench: CamLiftBench, state: CamLiftState, action: CamLiftAction): CamInside[] {
  const { moments, state: after } = stepCamLift(bench, state, action, 'every-degree');
  const { position } = after;
  if (position === null) return [];
  return moments.map(({ camCrankDeg, tappetMm }) => insideAt(bench, position, camCrankDeg, tappetMm));
}

function insideAt(bench: CamLiftBench, position: number, camCrankDeg: number, tappetMm: number): CamInside {
  const { noseCrankDeg } = lobeAt(bench, position).lobe;
  return { camDeg: positiveRemainder((camCrankDeg - noseCrankDeg) / 2, 360), tappetMm };
}
