import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { median, oneWay, summarise } from '../../../server/engine/index.ts';
import { LAW } from '../../support/arbitraries/settings.ts';

const reading = fc.integer({ min: -50_000, max: 50_000 }).map((value) => value / 1000);
const groups = fc
  .array(fc.array(reading, { minLength: 1, maxLength: 6 }), { minLength: 2, maxLength: 5 })
  .filter((all) => all.some(({ length }) => length > 1));

const near = (ours: number | null, expected: number | null, size = 1) => {
  if (ours === null || expected === null) expect(ours).toBe(expected);
  else if (Number.isFinite(expected))
    expect(Math.abs(ours - expected)).toBeLessThanOrEqual(1e-9 * Math.max(Math.abs(expected), size));
};

describe('one-way analysis of variance', () => {
  it('splits what varies between groups from what varies within', () => {
    const table = oneWay([
      [1, 2, 3],
      [4, 5, 6],
    ]);
    expect(table.between).toEqual({ degreesOfFreedom: 1, sumOfSquares: 13.5, meanSquare: 13.5 });
    expect(table.within).toEqual({ degreesOfFreedom: 4, sumOfSquares: 4, meanSquare: 1 });
    expect(table.total).toEqual({ degreesOfFreedom: 5, sumOfSquares: 17.5 });
    expect(table).toMatchObject({ f: 13.5, residualSd: 1, grandMean: 3.5, means: [2, 5] });
    expect(table.p).toBeCloseTo(0.0213, 4);
    expect(table.rSquared).toBeCloseTo(13.5 / 17.5, 12);
  });
  it('weighs groups by their size', () =>
    expect(oneWay([[1], [3, 3, 3]])).toMatchObject({ grandMean: 2.5, between: { sumOfSquares: 3 } }));
  it('gives an infinite F where only the groups differ', () =>
    expect(
      oneWay([
        [1, 1],
        [2, 2],
      ]),
    ).toMatchObject({ f: Number.POSITIVE_INFINITY, p: 0, rSquared: 1 }));
  it('gives none where nothing varies', () =>
    expect(
      oneWay([
        [2, 2],
        [2, 2],
      ]),
    ).toMatchObject({ f: null, p: null, rSquared: null, residualSd: 0 }));
  it.each([
    ['no group', []],
    ['one group', [[1, 2]]],
    ['an empty group', [[1, 2], []]],
    ['no group of two', [[1], [2]]],
    ['a reading that is not finite', [[1, Number.NaN], [2]]],
    ['an infinite reading', [[1, 2], [Number.POSITIVE_INFINITY]]],
  ])('refuses %s', (_, bad) => expect(() => oneWay(bad)).toThrow(RangeError));
  it('says how many groups it needs', () => expect(() => oneWay([[1, 2]])).toThrow('two groups'));
  it('names the empty group', () => expect(() => oneWay([[1, 2], []])).toThrow('Group 2'));

  it('does not change when all readings are moved', () =>
    fc.assert(
      fc.property(groups, fc.integer({ min: -4000, max: 4000 }), (all, shift) => {
        const [before, after] = [
          oneWay(all),
          oneWay(all.map((group) => group.map((value) => value + shift))),
        ];
        near(after.between.sumOfSquares, before.between.sumOfSquares);
        near(after.within.sumOfSquares, before.within.sumOfSquares);
        near(after.grandMean, before.grandMean + shift);
      }),
      LAW,
    ));
  it('grows by the square of the scale, and F not at all', () =>
    fc.assert(
      fc.property(groups, fc.constantFrom(-8, 0.25, 2, 1024), (all, scale) => {
        const [before, after] = [
          oneWay(all),
          oneWay(all.map((group) => group.map((value) => value * scale))),
        ];
        near(after.between.sumOfSquares, scale ** 2 * before.between.sumOfSquares, scale ** 2);
        near(after.residualSd, Math.abs(scale) * before.residualSd, Math.abs(scale));
        // Powers of two lose nothing.
        expect([after.f, after.p, after.rSquared]).toEqual([before.f, before.p, before.rSquared]);
      }),
      LAW,
    ));
  it('does not care in which order groups and readings stand', () =>
    fc.assert(
      fc.property(groups, (all) => {
        const [before, after] = [oneWay(all), oneWay(all.toReversed().map((group) => group.toReversed()))];
        near(after.between.sumOfSquares, before.between.sumOfSquares);
        near(after.within.sumOfSquares, before.within.sumOfSquares);
      }),
      LAW,
    ));
  it('has a total that is the sum about the grand mean', () =>
    fc.assert(
      fc.property(groups, (all) => {
        const { total, grandMean } = oneWay(all);
        near(
          total.sumOfSquares,
          all.flat().reduce((sum, value) => sum + (value - grandMean) ** 2, 0),
        );
      }),
      LAW,
    ));
});

describe('a summary', () => {
  it('has mean, standard deviation and that of the mean', () => {
    const { count, mean, sd, sdOfMean } = summarise([2, 4, 4, 4, 5, 5, 7, 9]);
    expect([count, mean]).toEqual([8, 5]);
    expect(sd).toBeCloseTo(Math.sqrt(32 / 7), 12);
    expect(sdOfMean).toBeCloseTo(Math.sqrt(32 / 7 / 8), 12);
  });
  it('says nothing about scatter from one value', () =>
    expect(summarise([3])).toEqual({ count: 1, mean: 3, sd: null, sdOfMean: null, lag1: null }));
  it('says nothing about order where all are alike', () =>
    expect(summarise([3, 3])).toMatchObject({ sd: 0, lag1: null }));
  it.each([[[]], [[1, Number.NaN]]])('refuses %j', (values) =>
    expect(() => summarise(values)).toThrow(RangeError),
  );
});

describe('the median', () => {
  // Odd, even, in no order, and with a number twice: by hand.
  it.each([
    [[3, 1, 2], 2],
    [[4, 1, 3, 2], 2.5],
    [[7], 7],
    [[5, 5, 1, 9], 5],
    [[], null],
  ])('of %j is %j, and the values stay as they were', (values, expected) => {
    const before = [...values];
    expect(median(values)).toBe(expected);
    expect(values).toEqual(before);
  });

  it('refuses what is no number', () => expect(() => median([1, Number.NaN])).toThrow(RangeError));
});
