import { type Dial, graduationsPerTurn } from '../dial/dial.ts';
import { wholeCount } from '../dial/read-dial.ts';
import type { ShownReading } from './hypotheses.ts';

/** Whole turns, and the pointer in graduations: what an eye takes from the dial, or what a mistake makes of it. */
export interface TurnsAndPointer {
  readonly turns: number;
  readonly pointer: number;
}

/** What the gauge showed, counted in graduations and turns of its own dial. */
export interface Scene {
  readonly dial: Dial;
  readonly perTurn: number;
  /** Highest reading, in graduations. */
  readonly high: number;
  readonly preload: number | null;
  /** In turns. */
  readonly counterAtZero: number | null;
  /** Where the pointer stood when the reading was written, if that is known to have been short of the highest; in graduations. */
  readonly notedShort: number | null;
  /** Is it known that it was written with the pointer at its highest? */
  readonly notedAtHigh: boolean;
  readonly others: readonly number[];
}

/** Within this many graduations a reading is right, and nobody is accused. */
export const RIGHT_WITHIN = 1;

/** Binary rounding of a length divided by its graduation. */
export const HAIR = 1e-6;

/** Counts what a gauge showed in graduations. Lengths in the dial's unit. */
export function sceneOf(dial: Dial, shown: ShownReading): Scene {
  const count = (length: number) => wholeCount(length / dial.graduation);
  const countIf = (length: number | null | undefined) =>
    length === null || length === undefined ? null : count(length);
  const high = count(shown.high);
  const noted = countIf(shown.noted);
  return {
    dial,
    perTurn: graduationsPerTurn(dial),
    high,
    preload: countIf(shown.preload),
    counterAtZero: dial.counter === 'none' ? null : (shown.counterAtZero ?? null),
    notedShort: noted !== null && high - noted > RIGHT_WITHIN ? noted : null,
    notedAtHigh: noted !== null && Math.abs(high - noted) <= RIGHT_WITHIN,
    others: (shown.others ?? []).map(count),
  };
}

export function graduationsOf({ turns, pointer }: TurnsAndPointer, perTurn: number): number {
  return turns * perTurn + pointer;
}

export function split(value: number, perTurn: number): TurnsAndPointer {
  const turns = Math.floor(wholeCount(value / perTurn));
  return { turns, pointer: value - turns * perTurn };
}

/** An eye may take a pointer this near to zero, in graduations, for one on its other side. */
const NEAR_ZERO = 0.9;

/**
 * How an eye may take a reading of so many graduations: turns and pointer, and where the pointer stands a hair short of zero also
 * the next whole turn.
 */
export function sightingsOf(graduations: number, perTurn: number): TurnsAndPointer[] {
  const plain = split(graduations, perTurn);
  return perTurn - plain.pointer < NEAR_ZERO ? [plain, { turns: plain.turns + 1, pointer: 0 }] : [plain];
}
