import { describe, expect, it } from 'vitest';
import {
  DIALS,
  explainReading,
  type Mistake,
  nameMistake,
  type ShownReading,
  type WrittenBoxes,
} from '../../server/engine/index.ts';

const dial = DIALS['inch-0.001-1'];

/** What is said of a reading on a 0.001 in gauge that showed 0.237 in, half a turn of preload, unless a case says otherwise. */
function check(
  written: WrittenBoxes,
  expected: { how: string; mistakes: Mistake[] } | null,
  shown: Partial<ShownReading> = {},
) {
  const likely = explainReading(dial, { high: 0.237, preload: 0.05, counterAtZero: 0.25, ...shown }, written);
  expect(nameMistake(likely)).toEqual(expected);
  const total = likely.reduce((sum, { probability }) => sum + probability, 0);
  if (likely.length > 0) expect(total).toBeCloseTo(1, 4);
}
const one = (mistake: Mistake) => ({ how: 'one', mistakes: [mistake] });
const either = (...mistakes: Mistake[]) => ({ how: 'either', mistakes });
const unexplained = { how: 'unexplained', mistakes: [] };

describe('a reading', () => {
  it('that is right has nothing to explain', () => check({ lift: 0.237 }, null));
  it('one graduation high has nothing to explain', () => check({ lift: 0.238 }, null));
  it('one graduation low has nothing to explain', () => check({ lift: 0.236 }, null));
  it('two graduations low fell short of the high point', () =>
    check({ lift: 0.235 }, one('not-the-high-point')));
  it('two graduations high has no one explanation', () => check({ lift: 0.239 }, unexplained));
  it('left blank has nothing to explain', () => check({}, null));
  it('is added up from its boxes where the lift is blank', () =>
    check({ turns: 1, pointer: 37 }, one('missed-turn')));
  it('written with nothing shown was not measured', () => {
    expect(explainReading(dial, null, { lift: 0.237 })).toEqual([
      { mistake: 'nothing-measured', probability: 1, predicted: null },
    ]);
  });
});

describe('a wrong reading is named', () => {
  it('a missed turn', () => check({ lift: 0.137 }, one('missed-turn')));
  it('a missed turn that shows in the turns box', () =>
    check({ turns: 1, pointer: 37, lift: 0.137 }, one('missed-turn')));
  it('an extra turn', () => check({ turns: 3, pointer: 37, lift: 0.337 }, one('extra-turn')));
  it('the remainder only', () => check({ turns: 0, pointer: 37, lift: 0.037 }, one('remainder-only')));
  it('one turn missed of one is the remainder too, and both are said', () =>
    check({ lift: 0.037 }, either('missed-turn', 'remainder-only'), { high: 0.137 }));
  it('the small hand read from zero', () =>
    check({ turns: 4, pointer: 37, lift: 0.437, counterBefore: 0 }, one('counter-from-zero'), {
      counterAtZero: 2.1,
    }));
  it('a turn too many, when the small hand was looked at before', () =>
    check({ turns: 3, pointer: 37, lift: 0.337, counterBefore: 1 }, one('extra-turn'), {
      counterAtZero: 1.1,
    }));
  it('either of the two, when nothing says whether it was looked at', () =>
    check({ turns: 3, pointer: 37, lift: 0.337 }, either('counter-from-zero', 'extra-turn'), {
      counterAtZero: 1.1,
    }));
  it('the decimal point one place right', () =>
    check({ turns: 2, pointer: 37, lift: 2.37 }, one('decimal-place')));
  it('the decimal point two places left', () =>
    check({ turns: 2, pointer: 37, lift: 0.00237 }, one('decimal-place')));
  it('a sum that does not follow from its boxes', () =>
    check({ turns: 2, pointer: 37, lift: 0.247 }, one('arithmetic')));
  it('a reading taken while the pointer was still rising', () =>
    check({ lift: 0.19 }, one('not-the-high-point'), { noted: 0.19 }));
  it('not as short of the high point when the pointer stood elsewhere as it was written', () =>
    check({ lift: 0.19 }, unexplained, { noted: 0.1 }));
  it('and above any mistake we know, honestly not', () =>
    check({ turns: 2, pointer: 61, lift: 0.261 }, unexplained));
});

describe('the pointer makes some mistakes likelier', () => {
  const probability = (high: number, lift: number, mistake: Mistake) =>
    explainReading(dial, { high }, { lift }).find((found) => found.mistake === mistake)?.probability ?? 0;

  it('a turn missed with the pointer just past zero, one too many with it just short', () => {
    // Against the same background, what is left for no reason at all.
    const odds = (high: number, lift: number, mistake: Mistake) =>
      probability(high, lift, mistake) / probability(high, lift, 'none-of-these');
    expect(odds(0.205, 0.105, 'missed-turn') / odds(0.24, 0.14, 'missed-turn')).toBeCloseTo(2, 1);
    expect(odds(0.295, 0.395, 'extra-turn') / odds(0.24, 0.34, 'extra-turn')).toBeCloseTo(3, 1);
  });
});

describe('one mistake is named alone', () => {
  const name = (...probabilities: [Mistake, number][]) =>
    nameMistake(probabilities.map(([mistake, probability]) => ({ mistake, probability, predicted: null })));

  it('at 0.80 and four times the next', () =>
    expect(name(['missed-turn', 0.8], ['extra-turn', 0.2])).toEqual(one('missed-turn')));
  it('not at 0.79', () =>
    expect(name(['missed-turn', 0.79], ['extra-turn', 0.19])).toEqual(either('missed-turn', 'extra-turn')));
  it('two together at 0.85', () =>
    expect(name(['missed-turn', 0.45], ['extra-turn', 0.4])).toEqual(either('missed-turn', 'extra-turn')));
  it('not two at 0.84', () => expect(name(['missed-turn', 0.44], ['extra-turn', 0.4])).toEqual(unexplained));
  it('never "none of these" as one of two', () =>
    expect(name(['missed-turn', 0.6], ['none-of-these', 0.4])).toEqual(unexplained));
  it('nothing of an empty list', () => expect(name()).toBeNull());
});
