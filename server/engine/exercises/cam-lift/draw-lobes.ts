import { judgeSimply } from '../../decision/judge.ts';
import type { Dial } from '../../dial/dial.ts';
import {
  type BuildUp,
  extremes,
  highestOfBaseMm,
  type Lobe,
  type LobeCondition,
  SOUND,
} from '../../lobe/lift-curve.ts';
import type { MotionLawName } from '../../lobe/motion-law.ts';
import type { Chance } from '../../random.ts';
import { fromMm, toMm } from '../../units.ts';
import type { LobeState } from './bench.ts';
import type { Specification } from './types.ts';

const mm = (inches: number) => toMm(inches, 'in');

export interface Shape {
  readonly curve: Omit<Lobe, 'liftMm' | 'condition' | 'noseCrankDeg'>;
  /** Crank degrees from the cylinder's own firing top dead centre to the middle of the nose. */
  readonly noseAfterTdcDeg: number;
}

/** The rise begins 40 to 60° of crank before the cylinder's firing TDC and peaks 30 to 60° after; one shape for an engine. */
export function drawShape(chance: Chance): Shape {
  const laws: readonly MotionLawName[] = [
    'polynomial-3-4-5',
    'cycloidal',
    'modified-sine',
    'modified-trapezoid',
    'polynomial-4-5-6-7',
  ];
  const law = chance.pick(laws);
  const riseCamDeg = chance.uniform(45, 55);
  const dwellCamDeg = chance.uniform(0, 8);
  const fallCamDeg = chance.uniform(70, 110);
  const riseToNose = 2 * riseCamDeg + dwellCamDeg;
  const noseAfterTdcDeg = chance.uniform(Math.max(30, riseToNose - 60), Math.min(60, riseToNose - 40));
  return { curve: { law, riseCamDeg, dwellCamDeg, fallCamDeg }, noseAfterTdcDeg };
}

interface DrawnLobe {
  readonly lobe: Lobe;
  readonly highestMm: number;
  readonly lowestMm: number;
}

/**
 * Draws until the lift is at least `marginMm` on its own side of every limit, wherever on the base circle the zero is taken: then gauge,
 * scatter and a reading to the graduation cannot bring a careful student to another verdict.
 */
export function drawLobe(
  shape: Omit<Lobe, 'liftMm' | 'condition'>,
  state: LobeState,
  specification: Specification,
  { dial, marginMm, closeCalls }: Room,
  chance: Chance,
): DrawnLobe {
  const nominalMm = toMm(specification.nominal, specification.unit);
  if (closeCalls && chance.chance(0.6)) return closeLobe(shape, state, specification, dial, chance);
  for (let tries = 0; tries < 400; tries += 1) {
    const liftMm = nominalMm + chance.normal(0, mm(0.0006));
    const drawn = { ...shape, liftMm, condition: drawCondition(shape, state, nominalMm, dial, chance) };
    const lobe = state === 'worn-a-turn' ? wornBy(drawn, drawn.condition.wearMm) : drawn;
    const found = { lobe, ...extremes(lobe) };
    if (isClear(found, state, specification, marginMm)) return found;
  }
  // Limits too narrow for any margin: a sound lobe in their middle, or a bad one well outside.
  const { lower, upper, unit } = specification;
  const middleMm = lower !== null && upper !== null ? toMm((lower + upper) / 2, unit) : nominalMm;
  const offMm =
    state === 'sound'
      ? 0
      : state === 'built-up'
        ? Math.max(0, toMm(upper ?? 0, unit) - middleMm) + 3 * marginMm
        : 0;
  const wearMm = state.startsWith('worn') ? Math.max(0, middleMm - toMm(lower ?? 0, unit)) + 3 * marginMm : 0;
  const lobe = { ...shape, liftMm: middleMm + offMm, condition: { ...SOUND, wearMm } };
  return { lobe, ...extremes(lobe) };
}

/** What a drawn lift must leave between itself and a limit. */
export interface Room {
  readonly dial: Dial;
  readonly marginMm: number;
  /** Are lifts wanted that lie next to a limit? */
  readonly closeCalls: boolean;
}

/** A lobe half a graduation to two from a limit, on its own side of it. */
function closeLobe(
  shape: Omit<Lobe, 'liftMm' | 'condition'>,
  state: LobeState,
  { lower, upper, unit, nominal }: Specification,
  dial: Dial,
  chance: Chance,
): DrawnLobe {
  const offMm = chance.uniform(0.5, 2) * toMm(dial.graduation, dial.unit);
  const above = state === 'built-up' || lower === null;
  const limitMm = toMm((above ? upper : lower) ?? nominal, unit);
  const outwards = above ? 1 : -1;
  const liftMm = limitMm + (state === 'sound' ? -outwards : outwards) * offMm;
  const lobe = { ...shape, liftMm, condition: SOUND };
  return { lobe, ...extremes(lobe) };
}

/** Deep wear leaves a shoulder higher than the middle of the nose: so much is taken off that the highest place has lost `lossMm`. */
function wornBy(lobe: Lobe, lossMm: number): Lobe {
  let worn = lobe;
  for (let tries = 0; tries < 3; tries += 1) {
    const stillToLoseMm = extremes(worn).highestMm - (lobe.liftMm - lossMm);
    worn = { ...lobe, condition: { ...lobe.condition, wearMm: worn.condition.wearMm + stillToLoseMm } };
  }
  return worn;
}

function isClear(
  found: DrawnLobe,
  state: LobeState,
  { lower, upper, unit }: Specification,
  marginMm: number,
): boolean {
  const wanted = state === 'sound' ? 'inside' : state === 'built-up' ? 'above' : 'below';
  const lifts = [found.highestMm - found.lowestMm, found.highestMm - highestOfBaseMm(found.lobe)];
  return lifts.every(
    (liftMm) =>
      judgeSimply(fromMm(liftMm, unit), { lower, upper }) === wanted &&
      [lower, upper].every((limit) => limit === null || Math.abs(liftMm - toMm(limit, unit)) >= marginMm),
  );
}

function drawCondition(
  shape: Omit<Lobe, 'liftMm' | 'condition'>,
  state: LobeState,
  nominalMm: number,
  dial: Dial,
  chance: Chance,
): LobeCondition {
  // Over 0.8 graduation of run-out no place would stand within half a graduation for 60° of crank.
  const runOutMost = 0.8 * Math.min(toMm(dial.graduation, dial.unit), mm(0.001));
  const hasRunOut = chance.chance(0.4);
  const runOutMm = hasRunOut ? chance.uniform(0.25, 1) * runOutMost : 0;
  const runOutPhaseCamDeg = chance.uniform(-180, 180);
  const buildUp = state === 'built-up' ? noseBuildUp(shape, chance) : harmlessBuildUp(shape, chance);
  return { wearMm: drawWearMm(state, nominalMm, dial, chance), buildUp, runOutMm, runOutPhaseCamDeg };
}

function drawWearMm(state: LobeState, nominalMm: number, dial: Dial, chance: Chance): number {
  if (state === 'worn-a-turn')
    return Math.min(0.7 * nominalMm, toMm(dial.rangePerTurn, dial.unit) + chance.normal(0, mm(0.0006)));
  if (state !== 'worn') return 0;
  const heavy = chance.chance(0.1);
  return heavy
    ? chance.uniform(mm(0.04), Math.min(mm(0.15), 0.7 * nominalMm))
    : chance.uniform(mm(0.006), mm(0.03));
}

function noseBuildUp(shape: Omit<Lobe, 'liftMm' | 'condition'>, chance: Chance): BuildUp {
  return {
    place: 'nose',
    heightMm: chance.uniform(mm(0.006), mm(0.02)),
    atCamDeg: 0,
    halfWidthCamDeg: shape.dwellCamDeg / 2 + chance.uniform(20, 35),
  };
}

/** A deposit where it does not change the lift: on the falling flank, or on the base circle where a zero should not be taken. */
function harmlessBuildUp(shape: Omit<Lobe, 'liftMm' | 'condition'>, chance: Chance): BuildUp | null {
  const share = chance.uniform(0, 1);
  const heightMm = chance.uniform(mm(0.002), mm(0.006));
  const along = chance.uniform(0.4, 0.6);
  if (share < 0.1) {
    return {
      place: 'flank',
      heightMm,
      atCamDeg: shape.dwellCamDeg / 2 + along * shape.fallCamDeg,
      halfWidthCamDeg: 16,
    };
  }
  if (share < 0.18)
    return { place: 'base', heightMm, atCamDeg: 180 + (along - 0.5) * 200, halfWidthCamDeg: 20 };
  return null;
}
