import { positiveRemainder } from '../angles.ts';
import { wholeCount } from '../dial/read-dial.ts';
import { MM_PER_IN } from '../units.ts';
import type { ReadingMistake } from './hypotheses.ts';
import { type Scene, split, type TurnsAndPointer } from './sighting.ts';

/**
 * A mistake in taking the reading: what it makes of turns and pointer. `of` says which box shows it; two mistakes that show in
 * different boxes can be told apart on one sheet. Several results are equally likely; none means that it cannot happen here.
 */
export interface ReadingRow {
  readonly mistake: ReadingMistake;
  readonly of: 'turns' | 'pointer' | 'reading';
  /** Part of the mistake's prior that takes this form; left out, all of it. */
  readonly share?: number;
  /** How many times likelier it is where the pointer stands here; left out, once. */
  readonly favour?: (pointerShare: number) => number;
  readonly makes: (seen: TurnsAndPointer, scene: Scene) => readonly TurnsAndPointer[];
}

/** A length, and how many times as large as the reading's its uncertainty is. Graduations. */
export interface LiftMade {
  readonly lift: number;
  readonly scale: number;
}

/** A mistake in making the lift out of turns and pointer, whose boxes are right. */
export interface LiftRow {
  readonly mistake: ReadingMistake;
  readonly share?: number;
  /** `reading` in graduations, as it stands in the boxes, or as it was seen where they are blank. */
  readonly makes: (reading: number, scene: Scene) => readonly LiftMade[];
}

/** Numerals stand ten graduations apart. */
const NUMERAL = 10;

export const READING_ROWS: readonly ReadingRow[] = [
  {
    mistake: 'missed-turn',
    of: 'turns',
    // Common practice, no source: a pointer just past zero hides the turn it has just finished.
    favour: (pointerShare) => (pointerShare <= 0.1 ? 2 : 1),
    makes: ({ turns, pointer }) => (turns >= 1 ? [{ turns: turns - 1, pointer }] : []),
  },
  {
    mistake: 'extra-turn',
    of: 'turns',
    // Common practice, no source: one just short of zero looks as if it had.
    favour: (pointerShare) => (pointerShare >= 0.9 ? 3 : 1),
    makes: ({ turns, pointer }) => [{ turns: turns + 1, pointer }],
  },
  {
    mistake: 'remainder-only',
    of: 'turns',
    share: 0.5,
    makes: ({ turns, pointer }) => (turns >= 1 ? [{ turns: 0, pointer }] : []),
  },
  {
    mistake: 'counter-from-zero',
    of: 'turns',
    makes: (seen, scene) => turnsFromZero(scene).map((turns) => ({ ...seen, turns })),
  },
  {
    mistake: 'up-and-down',
    of: 'turns',
    makes: ({ turns, pointer }) => (turns >= 1 ? [{ turns: 2 * turns, pointer }] : []),
  },
  { mistake: 'wrong-way', of: 'pointer', makes: otherWayRound },
  {
    mistake: 'neighbouring-numeral',
    of: 'pointer',
    makes: ({ turns, pointer }, { perTurn }) =>
      [-NUMERAL, NUMERAL].map((off) => ({ turns, pointer: positiveRemainder(pointer + off, perTurn) })),
  },
  {
    mistake: 'digits-swapped',
    of: 'pointer',
    share: 0.5,
    makes: ({ turns, pointer }, { perTurn }) =>
      wholeNear(pointer)
        .flatMap((whole) => swaps(String(whole).padStart(2, '0')))
        .filter((swapped) => swapped < perTurn)
        .map((swapped) => ({ turns, pointer: swapped })),
  },
  {
    mistake: 'preload-included',
    of: 'reading',
    share: 0.5,
    makes: (seen, { preload, perTurn }) =>
      preload === null ? [] : [split(seen.turns * perTurn + seen.pointer + preload, perTurn)],
  },
  {
    mistake: 'another-lobe',
    of: 'reading',
    makes: (_, { others, perTurn }) => others.map((other) => split(other, perTurn)),
  },
];

export const LIFT_ROWS: readonly LiftRow[] = [
  {
    mistake: 'decimal-place',
    makes: (reading) => [-2, -1, 1, 2].map((power) => scaled(reading, 10 ** power)),
  },
  { mistake: 'graduation-value', makes: (reading) => [0.5, 2].map((factor) => scaled(reading, factor)) },
  {
    mistake: 'inch-millimetre',
    makes: (reading, { dial }) => [scaled(reading, dial.unit === 'in' ? MM_PER_IN : 1 / MM_PER_IN)],
  },
  {
    mistake: 'remainder-only',
    share: 0.5,
    makes: (reading, { perTurn }) =>
      reading >= perTurn ? [{ lift: positiveRemainder(reading, perTurn), scale: 1 }] : [],
  },
  {
    mistake: 'preload-included',
    share: 0.5,
    makes: (reading, { preload }) => (preload === null ? [] : [{ lift: reading + preload, scale: 1 }]),
  },
  {
    mistake: 'digits-swapped',
    share: 0.5,
    makes: (reading, { dial }) => {
      const step = digitsPerGraduation(dial.graduation);
      return wholeNear(reading)
        .flatMap((whole) => swaps(String(Math.round(whole * step))))
        .map((swapped) => ({ lift: swapped / step, scale: 0 }));
    },
  },
];

/** Right turns and pointer, and the lift their sum. */
export const RIGHT_SUM = (reading: number): readonly LiftMade[] => [{ lift: reading, scale: 1 }];

function scaled(reading: number, factor: number): LiftMade {
  return { lift: reading * factor, scale: factor };
}

/**
 * Whole turns read off the small hand at the high point when where it began is forgotten: rounded down as it stands, or brought to the
 * nearest turn that the pointer allows. One that runs backwards may be read as it stands, or from ten down. None for a dial without one.
 */
function turnsFromZero({ counterAtZero, high, perTurn, dial }: Scene): number[] {
  if (counterAtZero === null) return [];
  const backwards = dial.counter === 'backwards';
  const turnsToHigh = wholeCount(high / perTurn);
  const turns = Math.floor(turnsToHigh);
  const asItStands = positiveRemainder(counterAtZero + (backwards ? -1 : 1) * turnsToHigh, HAND_ROUND);
  const runSinceZero = backwards ? positiveRemainder(-asItStands, HAND_ROUND) : asItStands;
  const nearest = Math.round(runSinceZero - (turnsToHigh - turns));
  const counts = [asItStands, runSinceZero].map((hand) => Math.floor(wholeCount(hand)));
  return [...new Set([...counts, nearest])].filter((count) => count !== turns);
}

/** Turns on the small hand's round. */
const HAND_ROUND = 10;

/**
 * The face read the wrong way round: the complement. A balanced face may also be read on its other side of the same zero, so that
 * a turn too few, or too many, comes with it.
 */
function otherWayRound({ turns, pointer }: TurnsAndPointer, { dial, perTurn }: Scene): TurnsAndPointer[] {
  const complement = { turns, pointer: positiveRemainder(perTurn - pointer, perTurn) };
  if (dial.face === 'continuous') return [complement];
  const nearestZero = Math.round((turns * perTurn + pointer) / perTurn) * perTurn;
  return [complement, split(2 * nearestZero - turns * perTurn - pointer, perTurn)];
}

/** The whole graduations that a reading may be taken for. */
function wholeNear(graduations: number): number[] {
  return [...new Set([Math.floor(graduations + HALF_AND_A_BIT), Math.ceil(graduations - HALF_AND_A_BIT)])];
}

const HALF_AND_A_BIT = 0.9;

/** The numbers that come of swapping two neighbouring digits. */
function swaps(digits: string): number[] {
  const found: number[] = [];
  for (let index = 1; index < digits.length; index += 1) {
    const [left, right] = [digits[index - 1], digits[index]];
    if (left !== right)
      found.push(Number(`${digits.slice(0, index - 1)}${right}${left}${digits.slice(index + 1)}`));
  }
  return found;
}

/** How much a length grows in its last written digit with one graduation: 1 for 0.001 in, 5 for 0.0005 in. */
function digitsPerGraduation(graduation: number): number {
  let step = graduation;
  while (Math.abs(step - Math.round(step)) > 1e-6 || step < 1 - 1e-6) step *= 10;
  return Math.round(step);
}
