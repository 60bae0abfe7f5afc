import type { Dial } from '../dial/dial.ts';

/** What a gauge showed. Lengths in the dial's unit. */
export interface ShownReading {
  /** Highest reading from the bezel's zero. */
  readonly high: number;
  /** How far the plunger was in at zero. */
  readonly preload?: number | null;
  /** Small hand at zero, in turns. */
  readonly counterAtZero?: number | null;
  /** Where it came back to on the base circle. */
  readonly returned?: number | null;
  /** What the dial showed when the reading was written down, if it is known. */
  readonly noted?: number | null;
  /** Highest readings of the other lobes on the sheet. */
  readonly others?: readonly number[];
}

/** What was written. Blank boxes are null or left out. Turns and counters in turns, pointer in graduations, lift in the dial's unit. */
export interface WrittenBoxes {
  readonly turns?: number | null;
  readonly pointer?: number | null;
  readonly lift?: number | null;
  readonly counterBefore?: number | null;
  readonly counterHigh?: number | null;
}

export type Mistake =
  | 'missed-turn'
  | 'extra-turn'
  | 'remainder-only'
  | 'counter-from-zero'
  | 'up-and-down'
  | 'wrong-way'
  | 'neighbouring-numeral'
  | 'digits-swapped'
  | 'preload-included'
  | 'another-lobe'
  | 'not-the-high-point'
  | 'decimal-place'
  | 'graduation-value'
  | 'inch-millimetre'
  | 'arithmetic'
  | 'firing-order'
  | 'nothing-measured'
  | 'none-of-these';

/** Mistakes that one reading alone may show. The other two are seen from the whole sheet and from the log. */
export type ReadingMistake = Exclude<Mistake, 'firing-order' | 'nothing-measured'>;

/**
 * How often each mistake is made when a reading on a continuous face is wrong; they add up to 1. Common practice, no source.
 * They are weighed only against each other on the reading at hand, so that one which cannot happen there drops out.
 */
const CONTINUOUS: Readonly<Record<ReadingMistake, number>> = {
  'missed-turn': 0.2,
  'not-the-high-point': 0.11,
  'counter-from-zero': 0.08,
  'remainder-only': 0.06,
  'preload-included': 0.06,
  'wrong-way': 0.06,
  'neighbouring-numeral': 0.06,
  'decimal-place': 0.06,
  'extra-turn': 0.05,
  'graduation-value': 0.05,
  arithmetic: 0.05,
  'up-and-down': 0.04,
  'another-lobe': 0.03,
  'digits-swapped': 0.02,
  'inch-millimetre': 0.02,
  'none-of-these': 0.05,
};

/** On a balanced face, numbered both ways, the wrong way is the commonest but one. Common practice, no source. */
const WRONG_WAY_BALANCED = 0.15;

/** The priors on a face: on a balanced one the wrong way takes its share and the rest are scaled to what is left. */
export function priorsOn(face: Dial['face']): Readonly<Record<ReadingMistake, number>> {
  return face === 'continuous' ? CONTINUOUS : BALANCED;
}

const BALANCED = Object.fromEntries(
  Object.entries(CONTINUOUS).map(([mistake, prior]) => [
    mistake,
    mistake === 'wrong-way'
      ? WRONG_WAY_BALANCED
      : (prior * (1 - WRONG_WAY_BALANCED)) / (1 - CONTINUOUS['wrong-way']),
  ]),
) as Record<ReadingMistake, number>;
