import { type Dial, graduationsPerTurn } from '../dial/dial.ts';
import { type Mistake, PRIORS, predictions, type ShownReading, type WrittenBoxes } from './hypotheses.ts';

/** A mistake that may explain a wrong reading. */
export interface LikelyMistake {
  readonly mistake: Mistake;
  /** Posterior probability, 0 to 1. */
  readonly probability: number;
  /** The lift it would have given, in the dial's unit; null where it gives no definite one. */
  readonly predicted: number | null;
}

/** Within this many graduations a reading is right, and nobody is accused. */
export const RIGHT_WITHIN = 1;

/** Spread of an honest eye round a predicted reading, in graduations: rounding to whole ones and a little more. */
const EYE_SD = 0.6;
/** How often a box that is filled in says something else than the mistake would put there. */
const BOX_SLIP = 0.05;

/**
 * Explains a wrong reading: likely mistakes, best first, with their probabilities, which add up to 1. The boxes come first:
 * turns and pointer right and the lift not their sum is arithmetic, or a decimal point out of place. Otherwise each mistake
 * is a hypothesis with a predicted reading, weighed by a normal likelihood and its prior. A reading that is right within
 * one graduation, or a blank lift, gives an empty list.
 */
export function explainReading(
  dial: Dial,
  shown: ShownReading | null,
  written: WrittenBoxes,
): LikelyMistake[] {
  const lift = written.lift ?? liftFromBoxes(dial, written);
  if (lift === null) return [];
  if (shown === null) return [{ mistake: 'nothing-measured', probability: 1, predicted: null }];
  const written_g = lift / dial.graduation;
  const high_g = shown.high / dial.graduation;
  if (Math.abs(written_g - high_g) <= RIGHT_WITHIN + 1e-6) return [];
  if (boxesAreRight(dial, shown, written)) return [fromRightBoxes(dial, shown, written_g)];
  return weigh(dial, shown, written, written_g);
}

/** Turns and pointer added up, when the lift itself is blank. */
export function liftFromBoxes(dial: Dial, written: WrittenBoxes): number | null {
  const { turns, pointer } = written;
  if (turns === undefined || turns === null || pointer === undefined || pointer === null) return null;
  return turns * dial.rangePerTurn + pointer * dial.graduation;
}

function boxesAreRight(dial: Dial, shown: ShownReading, written: WrittenBoxes): boolean {
  if (written.lift === undefined || written.lift === null) return false;
  const sum = liftFromBoxes(dial, written);
  return sum !== null && Math.abs(sum - shown.high) <= (RIGHT_WITHIN + 1e-6) * dial.graduation;
}

function fromRightBoxes(dial: Dial, shown: ShownReading, writtenGraduations: number): LikelyMistake {
  const misplaced = predictions(dial, shown).find(
    ({ mistake, liftGraduations }) =>
      mistake === 'decimal-place' &&
      Math.abs(liftGraduations - writtenGraduations) <= Math.max(RIGHT_WITHIN, 0.01 * liftGraduations),
  );
  return misplaced === undefined
    ? { mistake: 'arithmetic', probability: 1, predicted: null }
    : { mistake: 'decimal-place', probability: 1, predicted: misplaced.liftGraduations * dial.graduation };
}

function weigh(
  dial: Dial,
  shown: ShownReading,
  written: WrittenBoxes,
  writtenGraduations: number,
): LikelyMistake[] {
  const perTurn = graduationsPerTurn(dial);
  const boxes = { turns: written.turns ?? null, pointer: written.pointer ?? null };
  const weights = new Map<Mistake, { weight: number; predicted: number | null; best: number }>();
  const add = (mistake: Mistake, weight: number, predicted: number | null) => {
    const sofar = weights.get(mistake);
    const better = sofar === undefined || weight > sofar.best;
    weights.set(mistake, {
      weight: (sofar?.weight ?? 0) + weight,
      predicted: better ? predicted : sofar.predicted,
      best: Math.max(weight, sofar?.best ?? 0),
    });
  };
  for (const one of predictions(dial, shown)) {
    // Ten times an eye's error is written ten times as large.
    const scale =
      one.mistake === 'decimal-place' ? Math.max(1, one.liftGraduations / (shown.high / dial.graduation)) : 1;
    const likelihood =
      normal(writtenGraduations, one.liftGraduations, EYE_SD * scale) *
      boxLikelihood(boxes, one.turns, one.pointer, perTurn);
    add(
      one.mistake,
      one.prior * likelihood * counterEvidence(dial, one.mistake, shown, written),
      one.liftGraduations * dial.graduation,
    );
  }
  const high = shown.high / dial.graduation;
  add(
    'not-the-high-point',
    PRIORS['not-the-high-point'] * shortOfHigh(dial, shown, writtenGraduations, high, boxes, perTurn),
    null,
  );
  // Anything from nothing to twice the gauge's travel, whatever the boxes say, as long as they say the same.
  const range = (2 * dial.travel) / dial.graduation;
  const ownTurns = Math.floor(writtenGraduations / perTurn);
  const ownBoxes = boxLikelihood(boxes, ownTurns, writtenGraduations - ownTurns * perTurn, perTurn);
  add('none-of-these', (PRIORS['none-of-these'] / range) * ownBoxes, null);
  const boxesDisagree = liftFromBoxes(dial, written);
  if (written.lift !== null && written.lift !== undefined && boxesDisagree !== null) {
    // Boxes that are wrong themselves and badly added too: rare, but possible.
    const turnsHigh = Math.floor(high / perTurn + 1e-9);
    add(
      'arithmetic',
      (PRIORS.arithmetic / range) * boxLikelihood(boxes, turnsHigh, high - turnsHigh * perTurn, perTurn),
      null,
    );
  }
  return normalise(weights);
}

/**
 * Short of the high point. Where it is known what the dial showed when the reading was written, that decides; otherwise any
 * shortfall up to the whole lift, small ones likelier.
 */
function shortOfHigh(
  dial: Dial,
  shown: ShownReading,
  writtenGraduations: number,
  high: number,
  boxes: { turns: number | null; pointer: number | null },
  perTurn: number,
): number {
  const short = high - writtenGraduations;
  if (short <= RIGHT_WITHIN || writtenGraduations < 0) return 0;
  const turns = Math.floor(writtenGraduations / perTurn + 1e-9);
  const own = boxLikelihood(boxes, turns, writtenGraduations - turns * perTurn, perTurn);
  const noted = shown.noted === undefined || shown.noted === null ? null : shown.noted / dial.graduation;
  if (noted !== null && high - noted > RIGHT_WITHIN) return normal(writtenGraduations, noted, EYE_SD) * own;
  const meanShort = 0.1 * high;
  return (Math.exp(-short / meanShort) / meanShort) * own;
}

/**
 * The box for the small hand at zero tells whether anybody looked: left at nothing though the hand stood elsewhere, its start
 * was forgotten; filled in rightly, it was not.
 */
function counterEvidence(dial: Dial, mistake: Mistake, shown: ShownReading, written: WrittenBoxes): number {
  const { counterAtZero } = shown;
  const { counterBefore } = written;
  if (dial.counter === 'none' || counterAtZero === undefined || counterAtZero === null) return 1;
  if (counterBefore === undefined || counterBefore === null) return 1;
  const isNothing = Math.abs(wrapTurns(counterBefore)) < NEAR_NOTHING;
  const looked = !isNothing && Math.abs(wrapTurns(counterBefore - counterAtZero)) < 0.6;
  const forgot = isNothing && Math.abs(wrapTurns(counterAtZero)) >= 2 * NEAR_NOTHING;
  if (!looked && !forgot) return 1;
  return (mistake === 'counter-from-zero') === forgot ? 1 - BOX_SLIP : BOX_SLIP;
}

/** A small hand this close to its zero, in turns, may be written as nothing. */
const NEAR_NOTHING = 0.15;

/** A small hand shows turns within its own round of ten. */
function wrapTurns(turns: number): number {
  return turns - 10 * Math.round(turns / 10);
}

function boxLikelihood(
  boxes: { turns: number | null; pointer: number | null },
  turns: number,
  pointer: number,
  perTurn: number,
): number {
  const turnsPart = boxes.turns === null ? 1 : boxes.turns === turns ? 1 - BOX_SLIP : BOX_SLIP / 10;
  if (boxes.pointer === null) return turnsPart;
  // A pointer close to zero may be read on either side of it.
  const off = Math.abs(boxes.pointer - pointer);
  const round = Math.min(off, perTurn - off);
  return turnsPart * ((1 - BOX_SLIP) * normal(round, 0, EYE_SD) + BOX_SLIP / perTurn);
}

function normal(x: number, mean: number, sd: number): number {
  return Math.exp(-0.5 * ((x - mean) / sd) ** 2) / (sd * Math.sqrt(2 * Math.PI));
}

function normalise(
  weights: ReadonlyMap<Mistake, { weight: number; predicted: number | null }>,
): LikelyMistake[] {
  const total = [...weights.values()].reduce((sum, { weight }) => sum + weight, 0);
  if (total === 0) return [{ mistake: 'none-of-these', probability: 1, predicted: null }];
  return [...weights]
    .map(([mistake, { weight, predicted }]) => ({ mistake, probability: weight / total, predicted }))
    .filter(({ probability }) => probability > 1e-6)
    .sort((a, b) => b.probability - a.probability);
}
