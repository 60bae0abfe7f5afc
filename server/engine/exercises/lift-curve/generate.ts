import { drawGauge, MARGIN_GRADUATIONS, setLimits, stretchFor } from '../../bench-parts/limits.ts';
import type { GaugedBench, SetLimits } from '../../bench-parts/types.ts';
import { type JudgedVerdict, judgeSimply } from '../../decision/judge-simply.ts';
import { lobeEvent } from '../../lobe/event.ts';
import { extremes, type Lobe, SOUND } from '../../lobe/lift-curve.ts';
import type { MotionLawName } from '../../lobe/motion-law.ts';
import { type Chance, chanceFor } from '../../random.ts';
import { convertLength, fromMm, toMm } from '../../units.ts';
import type {
  CheckingLift,
  DegreeLimits,
  DegreeRange,
  LiftCurveBench,
  LiftCurveDefinition,
  LiftCurveLimits,
} from './types.ts';
import { judgeLiftCurve } from './verdict.ts';

const LAWS: readonly MotionLawName[] = [
  'polynomial-3-4-5',
  'cycloidal',
  'modified-sine',
  'modified-trapezoid',
  'polynomial-4-5-6-7',
];

/** Degrees that width and centre keep from their limits: three times what a careful table is off by. */
export const MARGIN_DEG = 1.5;
/** Half of the usual widths of the limits, crank degrees. Common practice, no source. */
const WIDTH_HALF_DEG = 6;
const CENTRE_HALF_DEG = 3;

/**
 * Draws a lobe and its place in the engine. Sound lobes lie inside every limit; 45 % are, at level 1 all. Of the others half are worn and half
 * stand off their time by a key (5 to 8° of crank) or a tooth (13 to 17°): common practice, no source.
 * @throws RangeError for an unknown dial, one too short or too fine for a cam, or limits that are not there, impossible, or too narrow to measure.
 */
export function generateLiftCurve(definition: LiftCurveDefinition, seed: string | number): LiftCurveBench {
  const text = String(seed);
  const level = definition.level ?? 2;
  const gauge = drawGauge(definition, text, {
    dial: 'inch-0.001-1',
    name: 'Practice engine, one injection lobe',
  });
  const checking: CheckingLift =
    gauge.dial.unit === 'in' ? { unit: 'in', lift: 0.05 } : { unit: 'mm', lift: 1 };
  const shape = chanceFor(text, 'lobe-shape');
  const lift = liftLimits(definition, gauge, shape);
  checkFits(gauge, lift);
  const checkingMm = toMm(checking.lift, checking.unit);
  const asMade = drawShape(shape, middleMm(lift), checkingMm, definition.width);
  const made = eventDeg(asMade, checkingMm);
  const limits: LiftCurveLimits = {
    lift,
    width: rangeFrom(definition.width, made.widthDeg, WIDTH_HALF_DEG),
    centre: rangeFrom(definition.centre, made.centreDeg, CENTRE_HALF_DEG),
  };
  const condition = chanceFor(text, 'lobe-condition');
  const lobe = drawLobe(asMade, limits, gauge, checkingMm, level, condition);
  const play = chanceFor(text, 'gear-play').uniform(0.1, level === 1 ? 0.8 : 1.2);
  const wheel = chanceFor(text, 'wheel-pointer');
  const isOff = wheel.chance(0.6);
  const offDeg = Math.round(10 * wheel.uniform(2, 6)) / 10;
  const minus = wheel.chance(0.5);
  const engine = chanceFor(text, 'engine');
  return {
    ...gauge,
    kind: 'lift-curve',
    limits,
    checking,
    lobe,
    backlashDeg: play,
    pointerOffDeg: level === 3 && isOff ? (minus ? -offDeg : offDeg) : 0,
    stopDeg: Math.round(10 * engine.uniform(18, 30)) / 10,
    startCrankDeg: Math.round(engine.uniform(0, 719)),
    truly: judgeLiftCurve(trueFigures(lobe, checkingMm, gauge), limits, gauge.dial),
  };
}

/** A lobe as it truly is: lift in the dial's unit, width and centre in crank degrees. */
export function trueFigures(lobe: Lobe, checkingMm: number, { dial }: GaugedBench) {
  const { widthDeg, centreDeg } = eventDeg(lobe, checkingMm);
  return { lift: fromMm(extremes(lobe).highestMm, dial.unit), widthDeg, centreDeg };
}

function eventDeg(lobe: Lobe, heightMm: number) {
  const event = lobeEvent(lobe, heightMm);
  if (event === null) throw new RangeError('The lift is not more than the lift at which the event is taken.');
  return event;
}

function liftLimits(
  { specification }: LiftCurveDefinition,
  { dial }: GaugedBench,
  chance: Chance,
): SetLimits {
  // Drawn even where the sheet gives one, so that giving it changes nothing else of the bench.
  const inch = dial.unit === 'in';
  const nominal = Math.round(chance.uniform(inch ? 200 : 500, inch ? 290 : 740));
  if (specification !== undefined) return setLimits(specification);
  const [scale, allowed] = inch ? [1000, 5] : [100, 12];
  return { unit: dial.unit, lower: (nominal - allowed) / scale, upper: (nominal + allowed) / scale };
}

/** A lift in the middle of its limits, or two hundredths of it inside the one there is. */
function middleMm({ lower, upper, unit }: SetLimits): number {
  if (lower !== null && upper !== null) return toMm((lower + upper) / 2, unit);
  return toMm(lower === null ? 0.98 * (upper ?? 0) : 1.02 * lower, unit);
}

/** A gauge fits when its travel is the lift and 0.050 in more; thousandths of a millimetre are too fine for a cam. */
function checkFits(bench: GaugedBench, limits: SetLimits): void {
  const { dial, dialName } = bench;
  const needs = fromMm(1.03 * middleMm(limits) + toMm(0.05, 'in'), dial.unit);
  if (needs > dial.travel) throw new RangeError(`The gauge ${dialName} is too short for this lift.`);
  if (toMm(dial.graduation, dial.unit) < 0.005)
    throw new RangeError(`The gauge ${dialName} is too fine for a cam's lift.`);
}

function drawShape(
  chance: Chance,
  liftMm: number,
  checkingMm: number,
  width: DegreeLimits | undefined,
): Lobe {
  const law = chance.pick(LAWS);
  const drawn: Lobe = {
    law,
    liftMm,
    riseCamDeg: chance.uniform(45, 55),
    dwellCamDeg: chance.uniform(0, 8),
    fallCamDeg: chance.uniform(70, 110),
    noseCrankDeg: Math.round(chance.uniform(35, 55)),
    condition: SOUND,
  };
  if (width === undefined) return drawn;
  // Flanks stretched until the event is as wide as the limits want it: it widens evenly with them.
  const wantedDeg = middleOf(width, 0, 2 * MARGIN_DEG);
  const nowDeg = eventDeg(drawn, checkingMm).widthDeg - 2 * drawn.dwellCamDeg;
  const stretch = (wantedDeg - 2 * drawn.dwellCamDeg) / nowDeg;
  if (!(stretch > 0.5 && stretch < 1.5))
    throw new RangeError('No injection lobe has an event of that width.');
  return { ...drawn, riseCamDeg: stretch * drawn.riseCamDeg, fallCamDeg: stretch * drawn.fallCamDeg };
}

/** Middle of limits; `inDeg` inside where one side is open; `otherwise` with both open. */
function middleOf({ lower = null, upper = null }: DegreeLimits, otherwise: number, inDeg: number): number {
  if (lower !== null && upper !== null) return (lower + upper) / 2;
  if (lower !== null) return lower + inDeg;
  return upper === null ? otherwise : upper - inDeg;
}

function rangeFrom(given: DegreeLimits | undefined, madeDeg: number, halfDeg: number): DegreeRange {
  const middle = Math.round(madeDeg);
  const { lower = null, upper = null } = given ?? { lower: middle - halfDeg, upper: middle + halfDeg };
  judgeSimply(0, { lower, upper });
  if (lower !== null && upper !== null && upper - lower < 3 * MARGIN_DEG)
    throw new RangeError(`Limits less than ${3 * MARGIN_DEG}° apart are too narrow for a lift curve.`);
  return { lower, upper };
}

/** How often a lobe is drawn again that came too near to a limit. */
const TRIES = 400;

function drawLobe(
  asMade: Lobe,
  limits: LiftCurveLimits,
  gauge: GaugedBench,
  checkingMm: number,
  level: number,
  chance: Chance,
): Lobe {
  const share = chance.uniform(0, 1);
  const canWear = limits.lift.lower !== null;
  const canShift = limits.centre.lower !== null || limits.centre.upper !== null;
  const isSound = level === 1 || share < 0.45 || !(canWear || canShift);
  const isWorn = !isSound && canWear && (share < 0.725 || !canShift);
  const want = isSound ? 'inside' : isWorn ? 'below' : 'shifted';
  for (let tries = 0; tries < TRIES; tries += 1) {
    const liftMm = drawLiftMm(limits.lift, gauge, isWorn ? 'below' : 'inside', chance);
    const inPlace = { ...asMade, liftMm: Math.max(liftMm, asMade.liftMm) };
    const worn = isWorn
      ? { ...inPlace, condition: { ...SOUND, wearMm: inPlace.liftMm - liftMm } }
      : { ...asMade, liftMm };
    const lobe = placed(worn, limits.centre, want === 'shifted', checkingMm, chance);
    const figures = trueFigures(lobe, checkingMm, gauge);
    if (judgeLiftCurve(figures, limits, gauge.dial) === want && isClear(figures, limits, gauge)) return lobe;
  }
  throw new RangeError('Between these limits no lobe keeps clear of all of them.');
}

function drawLiftMm(lift: SetLimits, gauge: GaugedBench, verdict: JudgedVerdict, chance: Chance): number {
  const graduationMm = toMm(gauge.dial.graduation, gauge.dial.unit);
  const nominal = middleMm(lift) / graduationMm;
  // Worn by 0.6 mm at most; a sound lobe within a hundredth of what it was made for where a side is open.
  const least = verdict === 'below' ? nominal - 0.6 / graduationMm : 0.98 * nominal;
  const stretch = stretchFor(verdict, lift, gauge.dial, 1.02 * nominal, least);
  if (stretch === null) throw new RangeError('This gauge is too coarse for these limits of lift.');
  return graduationMm * chance.uniform(stretch.from, stretch.to);
}

/** Turns the lobe so that its event's middle stands where it should, or off it by a key or a tooth of its gear. */
function placed(lobe: Lobe, centre: DegreeRange, isOff: boolean, checkingMm: number, chance: Chance): Lobe {
  const { centreDeg } = eventDeg(lobe, checkingMm);
  const wantedDeg = middleOf(centre, centreDeg, CENTRE_HALF_DEG);
  const offDeg = chance.chance(0.4) ? chance.uniform(13, 17) : chance.uniform(5, 8);
  const onDeg = chance.uniform(-1.2, 1.2);
  const way = chance.chance(0.5) ? 1 : -1;
  return {
    ...lobe,
    noseCrankDeg: lobe.noseCrankDeg + wantedDeg - centreDeg + (isOff ? way * offDeg : onDeg),
  };
}

function isClear(
  { lift, widthDeg, centreDeg }: ReturnType<typeof trueFigures>,
  limits: LiftCurveLimits,
  { dial }: GaugedBench,
): boolean {
  const inUnit = convertLength(lift, dial.unit, limits.lift.unit);
  const margin = MARGIN_GRADUATIONS * convertLength(dial.graduation, dial.unit, limits.lift.unit);
  const clear = (value: number, { lower, upper }: DegreeRange, by: number) =>
    [lower, upper].every((limit) => limit === null || Math.abs(value - limit) >= by - 1e-9);
  return (
    clear(inUnit, limits.lift, margin) &&
    clear(widthDeg, limits.width, MARGIN_DEG) &&
    clear(centreDeg, limits.centre, MARGIN_DEG)
  );
}
