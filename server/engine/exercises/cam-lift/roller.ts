import { wrapDegrees } from '../../angles.ts';
import type { Lobe } from '../../lobe/lift-curve.ts';
import { chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import type { RollerTruth } from './bench.ts';
import type { RollerLook, RollerVerdict } from './types.ts';

export const SOUND_ROLLER: RollerTruth = { condition: 'sound', flatMm: 0 };

const BAD = ['blued', 'pitted', 'scored', 'flat'] as const;

/** Rollers by pump position: one in four is bad, each kind as often. Common practice, no source. */
export function drawRollers(seed: string, cylinders: number, areJudged: boolean): RollerTruth[] {
  return Array.from({ length: cylinders }, (_, index) => {
    if (!areJudged) return SOUND_ROLLER;
    const chance = chanceFor(seed, `roller/${index + 1}`);
    if (!chance.chance(0.25)) return SOUND_ROLLER;
    const condition = chance.pick(BAD);
    const flatMm = toMm(chance.uniform(0.001, 0.003), 'in');
    return { condition, flatMm: condition === 'flat' ? flatMm : 0 };
  });
}

/** The verdict a roller calls for. Common practice, no source: blue from heat, pits, scores or a flat, and it is not used again. */
export function rollerVerdictFor({ condition }: RollerTruth): RollerVerdict {
  return condition === 'sound' ? 'sound' : 'not-again';
}

/** What a roller looks like in the hand: colour, surface, shape. */
export function rollerLooks({ condition }: RollerTruth): RollerLook[] {
  return [
    condition === 'blued' ? 'roller-blue' : 'roller-bright',
    condition === 'pitted' ? 'roller-pits' : condition === 'scored' ? 'roller-scores' : 'roller-smooth',
    condition === 'flat' ? 'roller-uneven' : 'roller-round',
  ];
}

const HALF_WIDTH_CAM_DEG = 6;

/**
 * How much a flat lets the roller down at a cam angle from the middle of the nose, in one pass. The roller does not turn in step with the cam,
 * so the flat comes under load elsewhere on every pass: now on the rise, now on the fall.
 */
export function flatMm(
  seed: string,
  lobe: Lobe,
  flatDeepMm: number,
  pass: number,
  fromNoseCamDeg: number,
): number {
  if (flatDeepMm === 0) return 0;
  const chance = chanceFor(seed, `roller-flat/${pass}`);
  const along = chance.uniform(0.35, 0.65);
  const flank = chance.chance(0.5) ? -lobe.riseCamDeg : lobe.fallCamDeg;
  const at = Math.sign(flank) * (lobe.dwellCamDeg / 2) + along * flank;
  const off = wrapDegrees(fromNoseCamDeg - at, 360) / HALF_WIDTH_CAM_DEG;
  return Math.abs(off) >= 1 ? 0 : (flatDeepMm * (1 + Math.cos(Math.PI * off))) / 2;
}
