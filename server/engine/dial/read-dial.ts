import { clamp, positiveRemainder } from '../angles.ts';
import { type Dial, graduationsPerTurn, type SetDial } from './dial.ts';

/** What a dial shows. */
export interface DialReading {
  /** Whole turns from the bezel's zero, rounded down: −1 just below it. */
  readonly turns: number;
  /** Pointer against the face, in graduations, 0 up to (not including) the graduations of one turn. */
  readonly pointer: number;
  /** turns × range + pointer × graduation, in the dial's unit. */
  readonly reading: number;
  /** Small hand, in turns; null for a dial without one. */
  readonly counter: number | null;
  /** Balanced face only: the numeral side by side with the pointer, 0 to half a turn, in graduations. */
  readonly numeral?: number;
  /** Balanced face only: which half the pointer stands in. */
  readonly side?: 'plus' | 'minus';
}

/** Whole counts survive binary rounding: 0.3 / 0.1 is 3. A billionth of a graduation is far below what anything can show. */
const WHOLE = 1e-9;

/** Rounds a quotient to the nearest whole number when it is one but for binary rounding. */
export function wholeCount(quotient: number): number {
  const nearest = Math.round(quotient);
  return Math.abs(quotient - nearest) <= WHOLE * Math.max(1, Math.abs(quotient)) ? nearest : quotient;
}

/**
 * Reads a set dial. `travel` is signed, in the dial's unit, from the bezel's zero, in positive. The plunger is held to
 * its travel: past either end the pointer stands still. Any finite number. Source: turns × range + pointer is arithmetic;
 * tests/published/dial-readings.
 * @throws RangeError when travel is not a finite number.
 */
export function readDial(dial: SetDial, travel: number): DialReading {
  if (!Number.isFinite(travel)) throw new RangeError('The travel must be a finite number.');
  const held = clamp(travel, -dial.plungerAtZero, dial.travel - dial.plungerAtZero);
  return readGraduations(dial, wholeCount(held / dial.graduation), dial.counterAtZero);
}

/** The same from a travel already counted in graduations, and the small hand at zero in turns. */
export function readGraduations(dial: Dial, graduations: number, counterAtZero: number): DialReading {
  const perTurn = graduationsPerTurn(dial);
  const turns = Math.floor(wholeCount(graduations / perTurn));
  const pointer = wholeCount(positiveRemainder(graduations, perTurn)) % perTurn;
  const way = dial.counter === 'backwards' ? -1 : 1;
  const plain = {
    turns,
    pointer,
    reading: turns * dial.rangePerTurn + pointer * dial.graduation,
    counter: dial.counter === 'none' ? null : wholeCount(counterAtZero + (way * graduations) / perTurn),
  };
  if (dial.face === 'continuous') return plain;
  const plus = pointer <= perTurn / 2;
  return { ...plain, numeral: plus ? pointer : perTurn - pointer, side: plus ? 'plus' : 'minus' };
}
