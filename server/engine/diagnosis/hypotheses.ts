import { type Dial, graduationsPerTurn } from '../dial/dial.ts';

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
  | 'decimal-place'
  | 'not-the-high-point'
  | 'arithmetic'
  | 'nothing-measured'
  | 'none-of-these';

/** What a mistake would have put on the sheet; graduations and turns. A blank prediction says nothing about that box. */
export interface Prediction {
  readonly mistake: Mistake;
  readonly prior: number;
  readonly liftGraduations: number;
  readonly turns: number;
  readonly pointer: number;
}

/**
 * How often each mistake is made when a reading on a continuous face is wrong. Common practice, no source; the last
 * is what is left for no reason at all. They are renormalised over those that can happen on the reading at hand.
 */
export const PRIORS: Readonly<Record<Exclude<Mistake, 'nothing-measured'>, number>> = {
  'missed-turn': 0.2,
  'not-the-high-point': 0.11,
  'counter-from-zero': 0.08,
  'remainder-only': 0.06,
  'decimal-place': 0.06,
  'extra-turn': 0.05,
  arithmetic: 0.05,
  'none-of-these': 0.05,
};

/**
 * The readings that mistakes with a definite result would have given. A pointer near the top of the dial makes an extra
 * turn three times as likely, one just past zero a missed turn twice (common practice, no source).
 */
export function predictions(dial: Dial, shown: ShownReading): Prediction[] {
  const perTurn = graduationsPerTurn(dial);
  const high = shown.high / dial.graduation;
  const turns = Math.floor(high / perTurn + 1e-9);
  const pointer = high - turns * perTurn;
  const share = pointer / perTurn;
  const predict = (mistake: keyof typeof PRIORS, prior: number, liftGraduations: number): Prediction => {
    const predictedTurns = Math.floor(liftGraduations / perTurn + 1e-9);
    return {
      mistake,
      prior,
      liftGraduations,
      turns: predictedTurns,
      pointer: liftGraduations - predictedTurns * perTurn,
    };
  };
  const found: Prediction[] = [
    predict('extra-turn', PRIORS['extra-turn'] * (share >= 0.9 ? 3 : 1), high + perTurn),
  ];
  if (turns >= 1) {
    found.push(predict('missed-turn', PRIORS['missed-turn'] * (share <= 0.1 ? 2 : 1), high - perTurn));
    found.push(predict('remainder-only', PRIORS['remainder-only'], pointer));
  }
  const forgotten = countersFromZero(shown, high / perTurn).filter((count) => count !== turns);
  for (const count of forgotten) {
    const prior = PRIORS['counter-from-zero'] / forgotten.length;
    found.push(predict('counter-from-zero', prior, count * perTurn + pointer));
  }
  for (const power of [-2, -1, 1, 2]) {
    // The boxes are right; the point is put wrong in the lift.
    const liftGraduations = high * 10 ** power;
    found.push({
      mistake: 'decimal-place',
      prior: PRIORS['decimal-place'] / 4,
      liftGraduations,
      turns,
      pointer,
    });
  }
  return found;
}

/**
 * Whole turns read off the small hand at the high point when where it began is forgotten: rounded down as it stands, or
 * brought to the nearest turn that the pointer allows. Empty for a dial without a small hand.
 */
function countersFromZero(shown: ShownReading, turnsToHigh: number): number[] {
  const { counterAtZero } = shown;
  if (counterAtZero === undefined || counterAtZero === null) return [];
  const roundedDown = Math.floor(counterAtZero + turnsToHigh + 1e-9);
  const nearest = Math.floor(turnsToHigh + 1e-9) + Math.round(counterAtZero);
  return [...new Set([roundedDown, nearest])];
}
