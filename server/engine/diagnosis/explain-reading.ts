import type { Dial } from '../dial/dial.ts';
import { explanationsOf, predictedLift } from './explanations.ts';
import {
  type Mistake,
  priorsOn,
  type ReadingMistake,
  type ShownReading,
  type WrittenBoxes,
} from './hypotheses.ts';
import {
  anyLength,
  counterLikelihood,
  EYE_SD,
  normal,
  type Sheet,
  sheetLikelihood,
  sheetOf,
} from './likelihood.ts';
import { RIGHT_SUM } from './mistake-table.ts';
import { HAIR, RIGHT_WITHIN, type Scene, sceneOf, split } from './sighting.ts';

/** A mistake that may explain a wrong reading, or two made at once. */
export interface LikelyMistake {
  readonly mistake: Mistake;
  /** A second mistake made with it; left out where one explains the reading. */
  readonly and?: Mistake;
  /** Posterior probability, 0 to 1. */
  readonly probability: number;
  /** The lift it would have given, in the dial's unit; null where it gives no definite one. */
  readonly predicted: number | null;
}

/**
 * Explains a wrong reading: likely mistakes, best first, with their probabilities, which add up to 1. The boxes come first:
 * turns and pointer say how the reading was taken, the lift what was made of it. Where they are blank or contradict, each mistake is a
 * hypothesis with a predicted lift. All are weighed by a normal likelihood and a prior; two mistakes at once only where both have
 * boxes to show in. A reading that is right within one graduation, or a blank lift, gives an empty list. Lengths in the dial's unit, any
 * finite number; small hands in turns, 0 to 10. Never throws. Source: Bayes' rule; mistakes and their priors are common practice, no source.
 */
export function explainReading(
  dial: Dial,
  shown: ShownReading | null,
  written: WrittenBoxes,
): LikelyMistake[] {
  if (shown === null) {
    const lift = written.lift ?? liftFromBoxes(dial, written);
    return lift === null ? [] : [{ mistake: 'nothing-measured', probability: 1, predicted: null }];
  }
  const scene = sceneOf(dial, shown);
  const sheet = sheetOf(written, scene);
  if (sheet === null || Math.abs(sheet.lift - scene.high) <= RIGHT_WITHIN + HAIR) return [];
  return normalise([...definite(scene, sheet), ...shortOfHigh(scene, sheet), noReason(scene, sheet)], dial);
}

/** Turns and pointer added up, in the dial's unit; null where either is blank. Any finite numbers. Never throws. Source: arithmetic. */
export function liftFromBoxes(dial: Dial, written: WrittenBoxes): number | null {
  const { turns, pointer } = written;
  if (turns === undefined || turns === null || pointer === undefined || pointer === null) return null;
  return turns * dial.rangePerTurn + pointer * dial.graduation;
}

interface Weighed {
  readonly mistakes: readonly [ReadingMistake, ReadingMistake?];
  readonly weight: number;
  /** The lift it would have given, in graduations: worked out only for what is left in the end. */
  readonly predicted: () => number | null;
}

const NOTHING_DEFINITE = () => null;

function definite(scene: Scene, sheet: Sheet): Weighed[] {
  const explanations = explanationsOf(scene, sheet.reading !== null, sheet.liftIsWritten);
  return explanations.flatMap((one) => {
    const likelihood = sheetLikelihood(sheet, scene, one.boxes, one.lifts);
    if (likelihood === 0) return [];
    const isShort = one.mistakes[0] === 'not-the-high-point';
    const reached = isShort ? (scene.notedShort ?? scene.high) : scene.high;
    return {
      mistakes: one.mistakes,
      weight: one.prior * likelihood * counterLikelihood(sheet, scene, one.mistakes, reached),
      predicted: () => predictedLift(one, scene.perTurn, sheet.lift),
    };
  });
}

/** Without the log, only a reading a little short can be told from one that is wrong for no reason: mean shortfall in graduations. */
const MEAN_SHORT = 5;
/** How seldom one that falls short leaves no note of it in the log. Common practice, no source. */
const UNNOTED = 0.4;

/** Short of the high point where it is not known what the dial showed when the reading was written: any shortfall, small ones likelier. */
function shortOfHigh(scene: Scene, sheet: Sheet): Weighed[] {
  const reading = sheet.reading ?? sheet.lift;
  const short = scene.high - reading;
  if (scene.notedShort !== null || scene.notedAtHigh || short <= RIGHT_WITHIN || reading < 0) return [];
  const prior = priorsOn(scene.dial.face)['not-the-high-point'];
  return [
    {
      mistakes: ['not-the-high-point'],
      weight:
        ((UNNOTED * prior * Math.exp(-short / MEAN_SHORT)) / MEAN_SHORT) *
        ownLift(scene, sheet) *
        counterLikelihood(sheet, scene, ['not-the-high-point'], reading),
      predicted: NOTHING_DEFINITE,
    },
  ];
}

/** A careless eye is a few graduations off and makes no mistake that has a name; how often, against those that have. Common practice, no source. */
const CARELESS = 0.15;
const CARELESS_SD = 1.5;

/** Wrong for no reason that has a name: an eye a few graduations off, or anything at all. */
function noReason(scene: Scene, sheet: Sheet): Weighed {
  const reading = sheet.reading ?? sheet.lift;
  const prior = priorsOn(scene.dial.face)['none-of-these'];
  const any = prior * anyLength(reading, scene);
  const careless = CARELESS * normal(reading, scene.notedShort ?? scene.high, CARELESS_SD);
  // Boxes and lift that have nothing to do with each other, nor with what the gauge showed.
  const garbled =
    sheet.reading === null || !sheet.liftIsWritten ? 0 : GARBLED * any * anyLength(sheet.lift, scene);
  const weight = ((scene.notedShort === null ? careless : 0) + any) * ownLift(scene, sheet) + garbled;
  return {
    mistakes: ['none-of-these'],
    weight: weight * counterLikelihood(sheet, scene, ['none-of-these'], scene.high),
    predicted: NOTHING_DEFINITE,
  };
}

/** How often boxes and lift are both wrong and disagree. Common practice, no source. */
const GARBLED = 0.05;

/** How likely boxes and lift are to say the same, whatever it is that they say. */
function ownLift(scene: Scene, sheet: Sheet): number {
  const own = split(sheet.reading ?? sheet.lift, scene.perTurn);
  return sheetLikelihood(sheet, scene, own, RIGHT_SUM) / normal(0, 0, EYE_SD);
}

function normalise(weighed: readonly Weighed[], dial: Dial): LikelyMistake[] {
  const gathered = new Map<string, { weight: number; best: Weighed }>();
  for (const one of weighed) {
    const key = one.mistakes.join(' ');
    const sofar = gathered.get(key);
    gathered.set(key, {
      weight: (sofar?.weight ?? 0) + one.weight,
      best: sofar === undefined || one.weight > sofar.best.weight ? one : sofar.best,
    });
  }
  const total = [...gathered.values()].reduce((sum, { weight }) => sum + weight, 0);
  if (total === 0) return [{ mistake: 'none-of-these', probability: 1, predicted: null }];
  return [...gathered.values()]
    .filter(({ weight }) => weight / total > 1e-6)
    .sort((a, b) => b.weight - a.weight)
    .map(({ weight, best }): LikelyMistake => {
      const [mistake, and] = best.mistakes;
      const graduations = best.predicted();
      const predicted = graduations === null ? null : graduations * dial.graduation;
      return { mistake, ...(and === undefined ? {} : { and }), probability: weight / total, predicted };
    });
}
