import {
  type Dial,
  type LikelyMistake,
  type Mistake,
  nameMistake,
  type ShownReading,
} from '../engine/index.ts';
import { writeLength } from './worked-kit.ts';

/** What each mistake looks like, said to the person who may have made it. Never an accusation: the numbers alone are known. */
const WORDS: Readonly<Record<Mistake, string>> = {
  'missed-turn': 'one turn of the pointer was not counted',
  'extra-turn': 'one turn too many was counted',
  'remainder-only': 'the pointer was written down without its whole turns',
  'counter-from-zero':
    'the small hand was read from zero; take its difference, because it seldom starts at zero',
  'up-and-down': 'turns were counted going up and coming down again',
  'wrong-way': 'the face was read the wrong way round',
  'neighbouring-numeral': 'the pointer was read from the numeral next to its own',
  'digits-swapped': 'two digits changed places',
  'preload-included': 'the preload was counted in with the lift',
  'another-lobe': 'it is the reading of another lobe',
  'graduation-value': 'a graduation or a turn was given twice or half its value',
  'inch-millimetre': 'inches and millimetres were mixed up',
  'firing-order': 'the lobes were written in another order than they were measured in',
  'decimal-place': 'the decimal point stands in the wrong place',
  'not-the-high-point': 'the reading was taken short of the high point',
  arithmetic: 'turns and pointer are right and their sum is not',
  'nothing-measured': 'nothing was measured',
  'none-of-these': 'no one mistake explains it',
};

/** What happened with a wrong number: the likeliest mistake, or honestly none. The likely ones come best first from the engine. */
export function explainWrong(
  dial: Dial,
  shown: ShownReading,
  written: number,
  likely: readonly LikelyMistake[],
): string {
  const naming = nameMistake(atTheHighPoint(likely));
  const [first, second] = naming?.mistakes ?? [];
  if (naming?.how === 'one' && first && second)
    return `It looks as if ${WORDS[first]}, and ${WORDS[second]}.`;
  if (naming?.how === 'one' && first) return `It looks as if ${WORDS[first]}.`;
  if (naming?.how === 'either' && first && second)
    return `It looks as if either ${WORDS[first]}, or ${WORDS[second]}.`;
  const off = Math.round((written - shown.high) / dial.graduation);
  const side = off > 0 ? 'high' : 'low';
  const graduations = Math.abs(off) === 1 ? 'graduation' : 'graduations';
  return `It is ${Math.abs(off)} ${graduations} too ${side}; no one mistake explains it.`;
}

/**
 * A question says what stood at the high point, so nobody stopped short of it: that explanation is out, and the others share
 * its probability.
 */
function atTheHighPoint(likely: readonly LikelyMistake[]): LikelyMistake[] {
  const left = likely.filter(({ mistake }) => mistake !== 'not-the-high-point');
  const total = left.reduce((sum, { probability }) => sum + probability, 0);
  return left.map((one) => ({ ...one, probability: one.probability / total }));
}

/** How the right reading comes about. */
export function workedSum(dial: Dial, high: number): string {
  const turns = Math.floor(high / dial.rangePerTurn + 1e-9);
  const pointer = Math.round((high - turns * dial.rangePerTurn) / dial.graduation);
  const { unit } = dial;
  return `${turns} × ${writeLength(dial.rangePerTurn, unit)} + ${pointer} × ${dial.graduation} = ${writeLength(high, unit)} ${unit}.`;
}
