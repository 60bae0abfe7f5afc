import { positiveRemainder } from '../angles.ts';
import type { ReadingMistake, WrittenBoxes } from './hypotheses.ts';
import type { LiftMade } from './mistake-table.ts';
import { graduationsOf, type Scene, type TurnsAndPointer } from './sighting.ts';

/** What was written, counted in graduations and turns. */
export interface Sheet {
  readonly turns: number | null;
  readonly pointer: number | null;
  /** Turns and pointer added up, in graduations; null where either is blank. */
  readonly reading: number | null;
  /** The lift box, or the sum where it is blank; in graduations. */
  readonly lift: number;
  readonly liftIsWritten: boolean;
  readonly counterBefore: number | null;
  readonly counterHigh: number | null;
}

/** Spread of an honest eye round a predicted reading, in graduations: a careful eye, and rounding to whole ones. */
export const EYE_SD = 0.55;
/** Spread of a lift made from boxes that are there to be seen: rounding alone. */
const SUM_SD = 0.3;
/** How often a box that is filled in says something else than the mistake would put there. Common practice, no source. */
const BOX_SLIP = 0.03;
/** Spread of a small hand as it is read, in turns. */
const COUNTER_SD = 0.12;
/** Turns on the small hand's round. */
const COUNTER_ROUND = 10;

export function normal(x: number, mean: number, sd: number): number {
  return Math.exp(-0.5 * ((x - mean) / sd) ** 2) / (sd * Math.sqrt(2 * Math.PI));
}

/**
 * How likely a length is that was written for no reason at all: anything up to twice the reading, as if spread over twice its turns, begun
 * ones counted whole, but no more than five turns of the pointer, and beyond it the less likely the larger.
 */
export function anyLength(graduations: number, { perTurn, high }: Scene): number {
  const edge = Math.max(ANY_TURNS * perTurn, 2 * high);
  const spreadTurns = Math.min(ANY_TURNS, Math.max(1, 2 * Math.ceil(high / perTurn)));
  return Math.min(1, (edge / graduations) ** 2) / (spreadTurns * perTurn);
}

/** In turns of the pointer. */
const ANY_TURNS = 5;

/** How likely the boxes and the lift are when the boxes came from `expected`, and the lift from them as `lifts` says. */
export function sheetLikelihood(
  sheet: Sheet,
  scene: Scene,
  expected: TurnsAndPointer,
  lifts: ((reading: number) => readonly LiftMade[]) | null,
): number {
  const value = graduationsOf(expected, scene.perTurn);
  if (sheet.reading !== null) {
    const boxes = normal(sheet.reading, value, EYE_SD);
    if (!sheet.liftIsWritten) return boxes;
    // Most explanations put the boxes so far off that nothing is left of them: then no lift need be made.
    const fromBoxes = boxes === 0 ? 0 : sumLikelihood(sheet.lift, sheet.reading, scene, lifts);
    // Boxes that say something else, and the lift as it would be without them.
    const fromEye =
      lifts === null ? 0 : liftLikelihood(sheet.lift, lifts(value), EYE) * anyLength(sheet.reading, scene);
    return (1 - BOX_SLIP) * boxes * fromBoxes + BOX_SLIP * fromEye;
  }
  if (lifts === null) return 0;
  return liftLikelihood(sheet.lift, lifts(value), EYE) * oneBoxLikelihood(sheet, scene, expected);
}

function sumLikelihood(
  lift: number,
  reading: number,
  scene: Scene,
  lifts: ((reading: number) => readonly LiftMade[]) | null,
): number {
  if (lifts === null) return anyLength(Math.abs(lift - reading), scene);
  return liftLikelihood(lift, lifts(reading), SUM);
}

/** Spread of a lift made from a reading: at its own size, and at most. Graduations. */
interface Spread {
  readonly sd: number;
  readonly most: number;
}
/** From boxes that are there to be seen only rounding is left; two readings' mean may come in at ten times its size. */
const SUM: Spread = { sd: SUM_SD, most: 10 * SUM_SD };
/** Ten times an eye's error is written ten times as large; a tenth of it is still rounded. */
const EYE: Spread = { sd: EYE_SD, most: Number.POSITIVE_INFINITY };

function liftLikelihood(written: number, lifts: readonly LiftMade[], { sd, most }: Spread): number {
  const sum = lifts.reduce(
    (total, { lift, scale }) => total + normal(written, lift, Math.min(most, Math.max(SUM_SD, sd * scale))),
    0,
  );
  return lifts.length === 0 ? 0 : sum / lifts.length;
}

/** Turns or pointer alone in its box, against what the mistake would put there. */
function oneBoxLikelihood({ turns, pointer }: Sheet, { perTurn }: Scene, expected: TurnsAndPointer): number {
  if (turns !== null) return turns === expected.turns ? 1 - BOX_SLIP : BOX_SLIP;
  if (pointer === null) return 1;
  const off = positiveRemainder(pointer - expected.pointer, perTurn);
  return (1 - BOX_SLIP) * normal(Math.min(off, perTurn - off), 0, EYE_SD) + BOX_SLIP / perTurn;
}

/**
 * The two boxes of the small hand. Left at nothing though the hand stood elsewhere, its start was forgotten; filled in rightly, it
 * was not. `reading` in graduations: where the pointer stood when the hand was read.
 */
export function counterLikelihood(
  sheet: Sheet,
  scene: Scene,
  mistakes: readonly (ReadingMistake | undefined)[],
  reading: number,
): number {
  const { counterAtZero, perTurn, dial } = scene;
  if (counterAtZero === null) return 1;
  const way = dial.counter === 'backwards' ? -1 : 1;
  // Another lobe's counters are not known here: they may stand anywhere, or be this one's with only the reading mixed up.
  const isElsewhere = mistakes.includes('another-lobe');
  const forgets = mistakes.includes('counter-from-zero');
  const near = (written: number, at: number) => {
    const off = positiveRemainder(written - at, COUNTER_ROUND);
    return normal(Math.min(off, COUNTER_ROUND - off), 0, COUNTER_SD);
  };
  const anywhere = 1 / COUNTER_ROUND;
  const [looked, forgot] = forgets ? [0.1, 0.87] : [0.93, 0.04];
  const before = (written: number) =>
    looked * near(written, counterAtZero) + forgot * near(written, 0) + BOX_SLIP * anywhere;
  const after = (written: number) =>
    (1 - BOX_SLIP) * near(written, counterAtZero + (way * reading) / perTurn) + BOX_SLIP * anywhere;
  const { counterBefore, counterHigh } = sheet;
  const own = (written: number | null, likelihood: (written: number) => number) =>
    written === null ? 1 : isElsewhere ? (anywhere + likelihood(written)) / 2 : likelihood(written);
  return own(counterBefore, before) * own(counterHigh, after);
}

/** Counts what was written; null where there is neither a lift nor boxes to add up. */
export function sheetOf(written: WrittenBoxes, { dial, perTurn }: Scene): Sheet | null {
  const { turns = null, pointer = null, lift = null, counterBefore = null, counterHigh = null } = written;
  const reading = turns === null || pointer === null ? null : turns * perTurn + pointer;
  const liftWritten = lift === null ? reading : lift / dial.graduation;
  if (liftWritten === null) return null;
  return {
    turns,
    pointer,
    reading,
    lift: liftWritten,
    liftIsWritten: lift !== null,
    counterBefore,
    counterHigh,
  };
}
