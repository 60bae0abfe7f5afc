import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  DIALS,
  type Dial,
  explainReading,
  type Mistake,
  nameMistake,
  type ShownReading,
  type WrittenBoxes,
} from '../../server/engine/index.ts';

const dial = DIALS['inch-0.001-1'];

const metric = DIALS['metric-0.01-10'];
const balanced: Dial = { ...dial, face: 'balanced' };

/** What is said of a reading on a 0.001 in gauge that showed 0.237 in, half a turn of preload, unless a case says otherwise. */
function check(
  written: WrittenBoxes,
  expected: { how: string; mistakes: Mistake[] } | null,
  shown: Partial<ShownReading> = {},
  on: Dial = dial,
) {
  const likely = explainReading(on, { high: 0.237, preload: 0.05, counterAtZero: 0.25, ...shown }, written);
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
  it('two graduations low has no one explanation: a careless eye is as likely as a pointer short of its highest', () =>
    check({ lift: 0.235 }, unexplained));
  it('two graduations low, written as the pointer stood there rising, fell short of the high point', () =>
    check({ lift: 0.235 }, one('not-the-high-point'), { noted: 0.235 }));
  it('eight graduations low fell short of the high point', () =>
    check({ lift: 0.229 }, one('not-the-high-point')));
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
  it('turns counted up and down', () =>
    check({ turns: 4, pointer: 37, lift: 0.437, counterBefore: 0.2 }, one('up-and-down')));
  it('the face read the wrong way round', () =>
    check({ turns: 2, pointer: 63, lift: 0.263 }, one('wrong-way')));
  it('the next numeral', () => check({ turns: 2, pointer: 47, lift: 0.247 }, one('neighbouring-numeral')));
  it('the numeral before, from the lift alone', () => check({ lift: 0.227 }, one('neighbouring-numeral')));
  it('two digits of the pointer swapped', () =>
    check({ turns: 2, pointer: 73, lift: 0.273 }, one('digits-swapped')));
  it('two digits of the lift swapped', () =>
    check({ turns: 2, pointer: 37, lift: 0.327 }, one('digits-swapped')));
  it('the preload counted in', () => check({ turns: 2, pointer: 87, lift: 0.287 }, one('preload-included')));
  it('the preload added to right boxes', () =>
    check({ turns: 2, pointer: 37, lift: 0.287 }, one('preload-included')));
  it("another lobe's line, where the other lobes are known", () =>
    check({ turns: 2, pointer: 18, lift: 0.218 }, one('another-lobe'), { others: [0.238, 0.218] }));
  it("not another lobe's line where no other lobe showed it", () =>
    check({ turns: 2, pointer: 18, lift: 0.218 }, unexplained, { others: [0.238, 0.21] }));
  it('a graduation taken for twice its value', () =>
    check({ turns: 2, pointer: 37, lift: 0.474 }, one('graduation-value')));
  it('a graduation taken for half its value, from the lift alone', () =>
    check({ lift: 0.118 }, one('graduation-value')));
  it('millimetres written for inches', () =>
    check({ turns: 2, pointer: 37, lift: 6.02 }, one('inch-millimetre')));
  it('inches written for millimetres', () =>
    check({ lift: 0.237 }, one('inch-millimetre'), { high: 6.02, preload: 0.5 }, metric));
  it('the remainder alone, from boxes that are right', () =>
    check({ turns: 2, pointer: 37, lift: 0.037 }, one('remainder-only')));
  it('the other side of zero on a balanced face', () =>
    check({ turns: 1, pointer: 63, lift: 0.163 }, one('wrong-way'), {}, balanced));
  it('which a continuous face has not', () =>
    check({ turns: 1, pointer: 63, lift: 0.163 }, { how: 'one', mistakes: ['missed-turn', 'wrong-way'] }));
  it('and above any mistake we know, honestly not', () =>
    check({ turns: 2, pointer: 61, lift: 0.261 }, unexplained));
});

describe('two mistakes at once', () => {
  const both = (...mistakes: Mistake[]) => ({ how: 'one', mistakes });
  it('a missed turn and a neighbouring numeral', () =>
    check({ turns: 1, pointer: 47, lift: 0.147 }, both('missed-turn', 'neighbouring-numeral')));
  it('a missed turn and a decimal point', () =>
    check({ turns: 1, pointer: 37, lift: 1.37 }, both('missed-turn', 'decimal-place')));
  it('the wrong way round and a bad sum', () =>
    check({ turns: 2, pointer: 63, lift: 0.294 }, both('wrong-way', 'arithmetic')));
  it('short of the high point and a turn missed, where the log knows how short', () =>
    check({ turns: 1, pointer: 12, lift: 0.112 }, both('not-the-high-point', 'missed-turn'), {
      noted: 0.212,
      counterAtZero: null,
    }));
  it('are not guessed at from the lift alone', () => check({ lift: 0.147 }, unexplained));
});

describe('the same on every dial', () => {
  const dials: [string, Dial][] = [
    ...Object.entries(DIALS),
    ['balanced', balanced],
    ['balanced metric', { ...metric, face: 'balanced' }],
    ['0.001 mm', { ...metric, graduation: 0.001, rangePerTurn: 0.2, travel: 1 }],
  ];
  it.each(dials)('%s: a turn missed, and nothing said within one graduation', (_, on) => {
    const high = 2 * on.rangePerTurn + 37 * on.graduation;
    const shown = { high, preload: 0.3 * on.rangePerTurn, counterAtZero: 0.3 };
    const said = (lift: number) => nameMistake(explainReading(on, shown, { lift }));
    expect(said(high - on.rangePerTurn)).toEqual(one('missed-turn'));
    for (const off of [-1, -0.5, 0, 0.5, 1]) expect(said(high + off * on.graduation)).toBeNull();
  });
});

describe('whatever is written', () => {
  const box = (most: number) => fc.option(fc.double({ min: -most, max: most, noNaN: true }));
  it('the probabilities add up to 1 and what is said has a name', () => {
    fc.assert(
      fc.property(
        fc.record({
          turns: box(12),
          pointer: box(120),
          lift: box(30),
          counterBefore: box(10),
          counterHigh: box(10),
        }),
        fc.double({ min: 0, max: 0.9, noNaN: true }),
        fc.option(fc.double({ min: 0, max: 0.9, noNaN: true })),
        fc.array(fc.double({ min: 0, max: 0.9, noNaN: true }), { maxLength: 5 }),
        (written, high, noted, others) => {
          const shown = { high, preload: 0.05, counterAtZero: 0.5, noted, others };
          const likely = explainReading(dial, shown, written);
          const naming = nameMistake(likely);
          if (likely.length === 0) return naming === null;
          const total = likely.reduce((sum, { probability }) => sum + probability, 0);
          return Math.abs(total - 1) < 1e-4 && naming?.mistakes.includes('none-of-these') === false;
        },
      ),
      { seed: 20261125, numRuns: 500 },
    );
  });
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
