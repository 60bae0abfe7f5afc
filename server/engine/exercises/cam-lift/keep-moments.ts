import { toMm } from '../../units.ts';
import { baseEdgeMm, type CamLiftBench, lobeAt } from './bench.ts';
import type { Moment } from './perceive.ts';

/** How much of a turn of the crank is kept: every degree, for a student to see; or what a grade and a replay can tell apart. */
export type Detail = 'every-degree' | 'what-counts';

/** Should a moment be kept, after the last that was? */
export type Keeps = (last: Moment, crankDeg: number, camMm: number, plungerMm: number) => boolean;

/** Graduations of the pointer, and degrees of crank with the pointer moving or hardly moving, that a plot can leave out. */
const SKIPS = { graduations: 6, movingDeg: 4, stillDeg: 15 };
/** Nearer the highest place of the lobe than this every degree counts. */
const NEAR_TOP_GRADUATIONS = 3;
const HARDLY = 0.1;

/** Every degree about the nose, where the highest reading is; on flanks and base circle what shows; and each edge of the base circle. */
export function keeperOf(bench: CamLiftBench, position: number | null, detail: Detail): Keeps {
  if (detail === 'every-degree') return () => true;
  const graduationMm = toMm(bench.dial.graduation, bench.dial.unit);
  const truth = position === null ? null : lobeAt(bench, position);
  const topMm =
    truth === null ? Number.POSITIVE_INFINITY : truth.highestMm - NEAR_TOP_GRADUATIONS * graduationMm;
  const baseMm = truth === null ? 0 : baseEdgeMm(truth);
  return (last, crankDeg, camMm, plungerMm) => {
    if (camMm >= topMm || camMm < baseMm !== last.camMm < baseMm) return true;
    const moved = Math.abs(plungerMm - last.plungerMm) / graduationMm;
    const turned = Math.abs(crankDeg - last.crankDeg);
    return (
      moved >= SKIPS.graduations || turned >= SKIPS.stillDeg || (moved > HARDLY && turned >= SKIPS.movingDeg)
    );
  };
}
