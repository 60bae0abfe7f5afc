import { positiveRemainder } from '../../angles.ts';
import { POINTER_AT_REST_TURNS } from '../../bench-parts/gauge.ts';
import type { Level } from '../../bench-parts/types.ts';
import { DIALS, type Dial, type DialName, graduationsPerTurn } from '../../dial/dial.ts';
import { type Chance, chanceFor } from '../../random.ts';
import type { DialReadingBench, DialReadingDefinition, Drill } from './types.ts';

/** Turns of the pointer in a drill, by level. Common practice, no source. */
const TURNS: Readonly<Record<Level, readonly [number, number]>> = { 1: [0.4, 2], 2: [1, 4], 3: [2, 7] };
/** Turns of the plunger left unused at either end of the travel. trade: "at least a quarter turn in, a quarter turn left at the top". */
const KEPT_FREE = 0.25;
/** From level 2 on the small hand begins at least this far from zero, in turns. */
const HAND_OFF_ZERO = 0.35;
/** At level 3 the pointer comes to rest this near to zero, in turns, every other time; below it, never. */
const NEAR_ZERO = 0.1;

/**
 * Draws the drills, each from its own streams. @throws RangeError for a level that is not 1, 2 or 3, a number of drills that is not a
 * whole one from 1 to 20, or where no dial is what was asked for.
 */
export function generateDialReading(
  definition: DialReadingDefinition,
  seed: string | number,
): DialReadingBench {
  const { level = 2, drills = 5, name = 'Practice dials' } = definition;
  if (![1, 2, 3].includes(level)) throw new RangeError('The level must be 1, 2 or 3.');
  if (!Number.isInteger(drills) || drills < 1 || drills > 20)
    throw new RangeError('There must be 1 to 20 drills.');
  const names = namesFor(definition, level);
  const text = String(seed);
  return {
    kind: 'dial-reading',
    version: 1,
    seed: text,
    name,
    drills: Array.from({ length: drills }, (_, index) => {
      const chance = chanceFor(text, `drill-dial/${index + 1}`);
      const dialName = chance.pick(names);
      const dial = drawDial(definition, DIALS[dialName], level, chance);
      return drawDrill(dialName, dial, level, chanceFor(text, `drill-movement/${index + 1}`));
    }),
  };
}

function namesFor({ dial, unit, face }: DialReadingDefinition, level: Level): DialName[] {
  const found = (Object.keys(DIALS) as DialName[]).filter((name) => {
    const printed: Dial = DIALS[name];
    if (unit !== undefined && printed.unit !== unit) return false;
    if (dial !== undefined) return name === dial;
    const isPlain = printed.face === 'continuous' && printed.counter === 'forwards';
    return (level === 3 || isPlain) && !(face === 'continuous' && printed.face === 'balanced');
  });
  if (found.length === 0) throw new RangeError('There is no such dial.');
  return found;
}

/** A dial asked for by name is as it is printed; one that is drawn may at level 3 have another face and small hand. */
function drawDial({ dial, face }: DialReadingDefinition, printed: Dial, level: Level, chance: Chance): Dial {
  const balanced = chance.chance(0.5);
  const counter = chance.pick(['backwards', 'none', printed.counter] as const);
  if (level < 3 || dial !== undefined) return { ...printed, face: face ?? printed.face };
  return { ...printed, face: face ?? (balanced ? 'balanced' : printed.face), counter };
}

function drawDrill(dialName: DialName, dial: Dial, level: Level, chance: Chance): Drill {
  const travelTurns = dial.travel / dial.rangePerTurn;
  const least = level === 1 ? KEPT_FREE : KEPT_FREE + HAND_OFF_ZERO;
  const turns = drawTurns(level, travelTurns - least - KEPT_FREE, graduationsPerTurn(dial), chance);
  const inwards = level === 1 || chance.chance(0.5);
  const [from, to] = inwards
    ? [least, travelTurns - KEPT_FREE - turns]
    : [Math.max(least, turns + KEPT_FREE), travelTurns - KEPT_FREE];
  const plungerTurns = level === 1 ? from : chance.uniform(from, Math.min(to, from + 3));
  const handTurns = plungerTurns + POINTER_AT_REST_TURNS;
  const way = dial.counter === 'backwards' ? -1 : 1;
  return {
    dialName,
    dial: {
      ...dial,
      plungerAtZero: plungerTurns * dial.rangePerTurn,
      counterAtZero: dial.counter === 'none' ? 0 : positiveRemainder(way * handTurns, 10),
    },
    movement: (inwards ? 1 : -1) * turns * dial.rangePerTurn,
  };
}

/** Turns of the pointer: clear of zero by a tenth of a turn, or at level 3 every other time within it and two graduations off. */
function drawTurns(level: Level, most: number, perTurn: number, chance: Chance): number {
  const to = Math.min(TURNS[level][1], most);
  const from = Math.min(TURNS[level][0], 0.6 * to);
  const drawn = chance.uniform(from, to);
  const side = chance.pick([-1, 1]) * chance.uniform(2 / perTurn, NEAR_ZERO);
  const whole = Math.round(chance.uniform(Math.ceil(from) - 0.5, Math.floor(to - NEAR_ZERO) + 0.5));
  if (level === 3 && chance.chance(0.5) && whole >= 1 && whole + NEAR_ZERO <= to) return whole + side;
  const clear = Math.floor(drawn) + NEAR_ZERO + (1 - 2 * NEAR_ZERO) * (drawn - Math.floor(drawn));
  return Math.min(clear, to);
}
