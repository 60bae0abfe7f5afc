import { drawGauge, stretchFor } from '../../bench-parts/limits.ts';
import { judgeSimply } from '../../decision/judge-simply.ts';
import { CYCLE_DEG, FIRING_ORDERS } from '../../drive/firing.ts';
import { extremes, type Lobe, SOUND } from '../../lobe/lift-curve.ts';
import { type Chance, chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import { noseDeg } from './train.ts';
import {
  type TappetKind,
  VALVES,
  type ValveBench,
  type ValveDefinition,
  type ValveFault,
  type ValveName,
  type ValveSpecification,
  type ValveTruth,
} from './types.ts';

/** Limits: TM 5-3805-280-24-2. Ratio and lash: common practice, no source. */
const USUAL: ValveSpecification = {
  unit: 'in',
  ratio: 1.5,
  intake: { lower: 0.447, upper: 0.481, lash: 0.012 },
  exhaust: { lower: 0.436, upper: 0.47, lash: 0.018 },
};
/** A bad valve lifts this much too little or too much at the most. */
const BEYOND_MM = 1;
/** What a gauge needs over the lift: design, 0.050 in. */
const OVER_MM = 1.27;
/** A valve lobe lifts and falls alike, about 125° of cam from end to end. Common practice, no source. */
const FLANK_CAM_DEG = 62;

/**
 * Draws the valves of an engine. Each lift keeps two graduations from its limits, and each valve has one thing wrong with it, or none.
 * @throws RangeError for an unknown dial, a firing order or valves that are none of the engine's, limits that cannot be, or a dial too
 * short or too coarse for them.
 */
export function generateValves(definition: ValveDefinition, seed: string | number): ValveBench {
  const text = String(seed);
  const level = definition.level ?? 2;
  const gauge = drawGauge(definition, text, { dial: 'inch-0.001-1', name: 'Practice engine, valve train' });
  const specification = checked(definition.specification ?? USUAL);
  const firingOrder = orderOf(definition);
  const mostMm = Math.max(...VALVES.map((valve) => toMm(specification[valve].upper, specification.unit)));
  if (toMm(gauge.dial.travel, gauge.dial.unit) < mostMm + BEYOND_MM + OVER_MM)
    throw new RangeError('The gauge has too little travel for these valves. Choose a longer one.');
  const drawn = chanceFor(text, 'tappets').chance(0.5) ? 'hydraulic' : 'solid';
  const tappets = definition.tappets ?? (level === 3 ? drawn : 'solid');
  const bench = {
    ...gauge,
    kind: 'valve-lift' as const,
    firingOrder,
    tappets,
    specification,
    startDeg: Math.round(chanceFor(text, 'crank').uniform(0, CYCLE_DEG)),
  };
  const valves = namesOf(definition, firingOrder, chanceFor(text, 'valves')).map((name) =>
    drawValve(bench, name, level, chanceFor(text, `valve/${name.cylinder}/${name.valve}`)),
  );
  return { ...bench, valves };
}

function checked(given: ValveSpecification): ValveSpecification {
  if (!(given.ratio > 0)) throw new RangeError('A rocker has a ratio more than nothing.');
  for (const valve of VALVES) {
    const { lower, upper, lash } = given[valve];
    judgeSimply(0, { lower, upper });
    if (!(lower > 0) || !(lash >= 0)) throw new RangeError('Lifts and lash cannot be less than nothing.');
  }
  return given;
}

function orderOf({ cylinders, firingOrder }: ValveDefinition): readonly number[] {
  if (firingOrder === undefined) return FIRING_ORDERS[cylinders ?? 6];
  const count = cylinders ?? firingOrder.length;
  const whole = Array.from({ length: count }, (_, index) => firingOrder.includes(index + 1)).every(Boolean);
  if (firingOrder.length !== count || !whole)
    throw new RangeError('The firing order must hold each cylinder once.');
  return firingOrder;
}

function namesOf({ valves = 1 }: ValveDefinition, order: readonly number[], chance: Chance): ValveName[] {
  if (typeof valves !== 'number') {
    const known = ({ cylinder, valve }: ValveName) => order.includes(cylinder) && VALVES.includes(valve);
    if (valves.length === 0 || !valves.every(known))
      throw new RangeError('A valve to be measured is none of this engine.');
    return valves.map(({ cylinder, valve }) => ({ cylinder, valve }));
  }
  if (!Number.isInteger(valves) || valves < 1 || valves > order.length)
    throw new RangeError('So many cylinders this engine does not have.');
  const cylinders = chance.shuffle(order).slice(0, valves);
  return cylinders.sort((a, b) => a - b).flatMap((cylinder) => VALVES.map((valve) => ({ cylinder, valve })));
}

type Bare = Omit<ValveBench, 'valves'>;

function drawValve(bench: Bare, name: ValveName, level: number, chance: Chance): ValveTruth {
  const { dial, specification, tappets } = bench;
  const { lower, upper, lash } = specification[name.valve];
  const { unit } = specification;
  const graduationMm = toMm(dial.graduation, dial.unit);
  const within = { unit, lower, upper };
  const [lowerMm, upperMm] = [toMm(lower, unit), toMm(upper, unit)];
  const stretch = (verdict: 'inside' | 'below' | 'above') => {
    const found = stretchFor(
      verdict,
      within,
      dial,
      (upperMm + BEYOND_MM) / graduationMm,
      Math.max(0, lowerMm - BEYOND_MM) / graduationMm,
    );
    if (found === null) throw new RangeError('The gauge is too coarse for these limits. Choose a finer one.');
    return chance.uniform(found.from, found.to) * graduationMm;
  };
  const sound = chance.chance(0.55);
  const fault = drawFault(tappets, level === 1 || sound, chance);
  const truly =
    fault === 'none' ? 'inside' : fault === 'wrong-rocker' && chance.chance(0.5) ? 'above' : 'below';
  const liftMm = stretch(truly);
  const setMm =
    tappets === 'hydraulic'
      ? 0
      : toMm(lash, unit) + chance.uniform(-1, 1) * Math.min(0.025, toMm(lash, unit) / 4);
  const ratio = specification.ratio * (1 + chance.uniform(-0.003, 0.003));
  const soundMm = ((lowerMm + upperMm) / 2 + setMm) / ratio;
  const lobeMm = fault === 'none' || fault === 'worn-lobe' ? (liftMm + setMm) / ratio : soundMm;
  const bled = chance.chance(0.5);
  const bledMm = chance.uniform(0.5, 1.5);
  return {
    ...name,
    lobe: lobeOf(noseDeg(bench.firingOrder, name), fault === 'worn-lobe' ? soundMm : lobeMm, lobeMm),
    ratio: fault === 'wrong-rocker' ? (liftMm + setMm) / soundMm : ratio,
    lashMm: fault === 'large-lash' ? ratio * soundMm - liftMm : setMm,
    bledMm: level === 3 && tappets === 'hydraulic' && bled ? bledMm : 0,
    fault,
    truly,
  };
}

function drawFault(tappets: TappetKind, sound: boolean, chance: Chance): ValveFault {
  const faults = [
    'worn-lobe',
    'wrong-rocker',
    ...(tappets === 'solid' ? (['large-lash'] as const) : []),
  ] as const;
  const drawn = chance.pick(faults);
  return sound ? 'none' : drawn;
}

/** A lobe made to one lift and worn to another: beside a worn nose the flanks stand a hair higher, so the wear is fitted to the lift. */
function lobeOf(noseCrankDeg: number, madeMm: number, liftMm: number): Lobe {
  const shape = { riseCamDeg: FLANK_CAM_DEG, dwellCamDeg: 0, fallCamDeg: FLANK_CAM_DEG, noseCrankDeg };
  const lobe = (wearMm: number): Lobe => ({
    ...{ law: 'polynomial-4-5-6-7', liftMm: madeMm, ...shape },
    condition: { ...SOUND, wearMm },
  });
  let wearMm = madeMm - liftMm;
  if (wearMm <= 0) return lobe(0);
  for (let tries = 0; tries < 4; tries += 1) wearMm += extremes(lobe(wearMm)).highestMm - liftMm;
  return lobe(wearMm);
}
