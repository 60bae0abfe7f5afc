import { type Chance, chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import type { RigTruth } from './bench.ts';
import type { CamLiftDefinition, CamLiftLevel } from './types.ts';

/** Nothing wrong with indicator, stand or rod. */
export const SOUND_RIG: RigTruth = {
  ...{ leanDeg: 0, tipInHole: false, loosePart: null, rodRocksMm: 0, slipWay: 1 },
};

/** Share of engines with one fault of indicator, stand or rod, at one of the positions to be measured, by level. Common practice, no source. */
const FAULTY = { 1: 0.3, 2: 0.3, 3: 0.6 };

/**
 * How indicator, stand and rod will stand at each pump position when they are set up there, before anybody looks. Nobody sets an
 * indicator quite square by eye: a lean of 2.5° at most is everywhere, and costs less than a graduation.
 */
export function drawRigs(
  definition: CamLiftDefinition,
  seed: string,
  positions: readonly number[],
  cylinders: number,
  level: CamLiftLevel,
): RigTruth[] {
  const chance = chanceFor(seed, 'rig');
  const isFaulty = chance.chance(FAULTY[level]);
  const at = chance.pick(positions);
  const faulty = drawFault(chance);
  return Array.from({ length: cylinders }, (_, index) => {
    if (!(definition.setUpFaults ?? level > 1)) return SOUND_RIG;
    const leanDeg = chanceFor(seed, `lean/${index + 1}`).uniform(0, 2.5);
    return isFaulty && at === index + 1 ? { ...SOUND_RIG, leanDeg, ...faulty } : { ...SOUND_RIG, leanDeg };
  });
}

function drawFault(chance: Chance): Partial<RigTruth> {
  const share = chance.uniform(0, 1);
  const leanDeg = chance.uniform(6, 12);
  const tipInHole = chance.chance(0.25);
  const rodRocksMm = toMm(chance.uniform(0.001, 0.005), 'in');
  const slipWay = chance.chance(0.5) ? 1 : -1;
  if (share < 0.45) return { leanDeg, tipInHole };
  if (share < 0.6) return { loosePart: 'arm', slipWay };
  if (share < 0.75) return { loosePart: 'base', slipWay };
  return { loosePart: 'rod', rodRocksMm };
}
