import { judgeSimply } from '../../decision/judge.ts';
import { DIALS, type Dial, type DialName } from '../../dial/dial.ts';
import { drawGaugeError, type GaugeError, mostErrorMm } from '../../dial/gauge-error.ts';
import { CYCLE_DEG, FIRING_ORDERS, firingTdcDeg } from '../../drive/firing.ts';
import {
  type BuildUp,
  extremes,
  highestOfBaseMm,
  type Lobe,
  type LobeCondition,
  SOUND,
} from '../../lobe/lift-curve.ts';
import type { MotionLawName } from '../../lobe/motion-law.ts';
import { type Chance, chanceFor } from '../../random.ts';
import { fromMm, toMm } from '../../units.ts';
import type { CamLiftBench, LobeState, LobeTruth, TappetTruth } from './bench.ts';
import { drawRigs } from './draw-rig.ts';
import { drawRollers } from './roller.ts';
import type { CamLiftDefinition, Specification } from './types.ts';

const mm = (inches: number) => toMm(inches, 'in');

/**
 * Draws a practice engine. The same definition and seed always give the same one; each hidden condition has its own
 * stream. Shares and sizes of the hidden conditions: common practice, no source.
 * @throws RangeError when the definition cannot be built (unknown dial, a firing order that misses a cylinder, a gauge too short).
 */
export function generateCamLift(definition: CamLiftDefinition, seed: string | number): CamLiftBench {
  const text = String(seed);
  const cylinders = definition.cylinders ?? (definition.firingOrder?.length === 4 ? 4 : 6);
  const firingOrder = checkedFiringOrder(definition.firingOrder ?? FIRING_ORDERS[cylinders], cylinders);
  const dialName: DialName = definition.dial ?? 'inch-0.001-1';
  const dial: Dial | undefined = DIALS[dialName];
  if (dial === undefined) throw new RangeError(`No dial is called "${dialName}".`);
  const specification = drawSpecification(definition, dial, chanceFor(text, 'specification'));
  checkFits(dialName, dial, specification);
  const gauge = drawGaugeError(dial, chanceFor(text, 'gauge-error'));
  const positions = drawPositions(definition.positions ?? 2, cylinders, chanceFor(text, 'positions'));
  const states = drawStates(specification, positions, chanceFor(text, 'lobe-states'));
  const shape = drawShape(chanceFor(text, 'lobe-shape'));
  const engine = chanceFor(text, 'engine');
  const faults = drawTappets(definition, positions, specification, chanceFor(text, 'tappets'));
  const lobes = Array.from({ length: cylinders }, (_, index): LobeTruth => {
    const position = index + 1;
    const state = states.get(position) ?? 'sound';
    const nose = (firingTdcDeg(firingOrder, position) + shape.noseAfterTdcDeg) % CYCLE_DEG;
    const drawn = drawLobe(
      { ...shape.curve, noseCrankDeg: nose },
      state,
      specification,
      { dial, gauge },
      chanceFor(text, `lobe/${position}`),
    );
    return { ...drawn, state, tappet: faults.get(position) ?? { fault: 'free', hungMm: 0, sticksMm: 0 } };
  });
  return {
    kind: 'cam-lift',
    version: 1,
    seed: text,
    engineName: definition.engineName ?? `Practice engine, inline ${cylinders}`,
    cylinders,
    firingOrder,
    dialName,
    dial,
    gauge,
    certificate: definition.certificate ?? false,
    specification,
    positions,
    fullCycle: definition.fullCycle ?? false,
    backlashDeg: engine.uniform(0.1, 0.8),
    compression: { everyDeg: CYCLE_DEG / cylinders, leakSeconds: engine.uniform(1.2, 2) },
    startCrankDeg: Math.round(engine.uniform(0, CYCLE_DEG)),
    startFaceTurn: Math.round(chanceFor(text, 'bezel').uniform(0, 100)),
    lobes,
    rigs: drawRigs(definition, text, positions, cylinders),
    rollerVerdict: definition.rollerVerdict ?? false,
    rollers: drawRollers(text, cylinders, definition.rollerVerdict ?? false),
  };
}

/** A gauge fits when its travel is the lift and 0.050 in more; thousandths of a millimetre are too fine for a cam. */
function checkFits(dialName: DialName, dial: Dial, { nominal, unit }: Specification): void {
  const tooShort = fromMm(toMm(nominal, unit) + mm(0.05), dial.unit) > dial.travel;
  if (tooShort) throw new RangeError(`The gauge ${dialName} is too short for a lift of ${nominal} ${unit}.`);
  if (toMm(dial.graduation, dial.unit) < 0.005)
    throw new RangeError(`The gauge ${dialName} is too fine for a cam's lift.`);
}

function checkedFiringOrder(order: readonly number[], cylinders: number): readonly number[] {
  const wanted = Array.from({ length: cylinders }, (_, index) => index + 1);
  if ([...order].sort((a, b) => a - b).join() !== wanted.join()) {
    throw new RangeError(
      `A firing order of ${cylinders} cylinders must name each of 1 to ${cylinders} once.`,
    );
  }
  return order;
}

function drawSpecification(definition: CamLiftDefinition, dial: Dial, chance: Chance): Specification {
  // Drawn even where the sheet gives one, so that giving it changes nothing else of the bench.
  const nominal = Math.round(chance.uniform(dial.unit === 'in' ? 200 : 500, dial.unit === 'in' ? 290 : 740));
  const upperOpen = chance.chance(0.5);
  if (definition.specification !== undefined) {
    const { unit, nominal: given, lower = null, upper = null } = definition.specification;
    return { unit, nominal: given, lower, upper };
  }
  const [scale, allowed] = dial.unit === 'in' ? [1000, 4] : [100, 10];
  return {
    unit: dial.unit,
    nominal: nominal / scale,
    lower: (nominal - allowed) / scale,
    upper: upperOpen ? null : (nominal + allowed) / scale,
  };
}

function drawPositions(
  wanted: number | readonly number[],
  cylinders: number,
  chance: Chance,
): readonly number[] {
  const all = Array.from({ length: cylinders }, (_, index) => index + 1);
  const drawn = chance.shuffle(all);
  if (typeof wanted === 'number') {
    return drawn.slice(0, Math.min(Math.max(1, Math.trunc(wanted)), cylinders)).sort((a, b) => a - b);
  }
  const chosen = [...new Set(wanted)].sort((a, b) => a - b);
  const unknown = chosen.find((position) => !all.includes(position));
  if (unknown !== undefined || chosen.length === 0)
    throw new RangeError(`This engine has no pump position ${unknown ?? '(none named)'}.`);
  return chosen;
}

/** 35 % all sound, 45 % one bad lobe, 20 % two; one lobe in twenty is truly low by a whole turn. */
function drawStates(
  specification: Specification,
  positions: readonly number[],
  chance: Chance,
): Map<number, LobeState> {
  const share = chance.uniform(0, 1);
  const bad = Math.min(share < 0.35 ? 0 : share < 0.8 ? 1 : 2, positions.length);
  const meanBad = positions.length === 1 ? 0.65 : 0.85;
  const wholeTurn = Math.min(0.35, (0.05 * positions.length) / meanBad);
  const states = new Map<number, LobeState>();
  const order = chance.shuffle(positions);
  for (const position of order.slice(0, bad)) {
    const wholeTurnDrawn = chance.chance(wholeTurn);
    const builtUpDrawn = chance.chance(0.2);
    if (specification.lower === null && specification.upper === null) continue;
    const canBeLow = specification.lower !== null;
    const builtUp = !canBeLow || (specification.upper !== null && builtUpDrawn);
    states.set(position, canBeLow && wholeTurnDrawn ? 'worn-a-turn' : builtUp ? 'built-up' : 'worn');
  }
  return states;
}

interface Shape {
  readonly curve: Omit<Lobe, 'liftMm' | 'condition' | 'noseCrankDeg'>;
  /** Crank degrees from the cylinder's own firing top dead centre to the middle of the nose. */
  readonly noseAfterTdcDeg: number;
}

/** The rise begins 40 to 60° of crank before the cylinder's firing TDC and peaks 30 to 60° after; one shape for an engine. */
function drawShape(chance: Chance): Shape {
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
 * Draws until the lift is at least two graduations, and the most that this gauge is wrong by, on its own side of every limit, wherever on
 * the base circle the zero is taken: then gauge, scatter and a reading to the graduation cannot bring a careful student to another verdict.
 */
function drawLobe(
  shape: Omit<Lobe, 'liftMm' | 'condition'>,
  state: LobeState,
  specification: Specification,
  { dial, gauge }: { dial: Dial; gauge: GaugeError },
  chance: Chance,
): DrawnLobe {
  const nominalMm = toMm(specification.nominal, specification.unit);
  const marginMm = 2 * toMm(dial.graduation, dial.unit) + mostErrorMm(gauge);
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

/** In two engines of five one of the tappets to be measured on hangs or sticks. */
function drawTappets(
  definition: CamLiftDefinition,
  positions: readonly number[],
  specification: Specification,
  chance: Chance,
): Map<number, TappetTruth> {
  const drawn = chance.chance(0.4);
  const position = chance.pick(positions);
  const share = chance.uniform(0, 1);
  const size = chance.uniform(0, 1);
  const faults = new Map<number, TappetTruth>();
  if (!drawn || definition.tappetFaults === false) return faults;
  const nominalMm = toMm(specification.nominal, specification.unit);
  if (share < 0.4) faults.set(position, { fault: 'dull-stop', hungMm: 0.5 + size, sticksMm: 0 });
  else if (share < 0.6) faults.set(position, { fault: 'slot-off-pin', hungMm: 6 + 3 * size, sticksMm: 0 });
  // Half of the sticky ones stay up for good, the others let go on the way down.
  else
    faults.set(position, {
      fault: 'sticky',
      hungMm: 0,
      sticksMm: size < 0.5 ? 1.5 * nominalMm : (size - 0.35) * nominalMm,
    });
  return faults;
}
