import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import {
  coverageFactor,
  fAbove,
  fQuantile,
  normalAbove,
  normalBetween,
  normalQuantile,
  studentOutside,
} from '../../../server/engine/statistics/distributions.ts';
import { LAW } from '../../support/arbitraries/settings.ts';

/*
 * The numbers below were made with mpmath at 50 digits:
 *   normal  erfc(z / sqrt(2)) / 2
 *   t       betainc(n/2, 1/2, 0, n/(n + t*t), regularized=True)
 *   F       betainc(b/2, a/2, 0, b/(b + a*f), regularized=True)
 *   chi²    gammainc(n/2, x/2, inf, regularized=True)
 * and quantiles by halving those 170 times.
 */
const RELATIVE = 2e-13;

function close(ours: number, exact: number, relative = RELATIVE) {
  expect(Math.abs(ours - exact), `${ours} against ${exact}`).toBeLessThanOrEqual(relative * Math.abs(exact));
}

describe('the normal distribution', () => {
  it.each([
    [-8, 0.9999999999999993],
    [-2.5, 0.9937903346742238],
    [-0.5, 0.6914624612740131],
    [0, 0.5],
    [0.001, 0.49960105778608893],
    [1, 0.15865525393145705],
    [3, 0.0013498980316300946],
    [6, 9.86587645037698e-10],
    [10, 7.619853024160525e-24],
    [37, 5.725571222524577e-300],
  ])('lies above %f with its chance, however small', (z, chance) => close(normalAbove(z), chance));
  it.each([
    [0.8, 0.8416212335729142],
    [0.95, 1.6448536269514726],
    [0.999, 3.0902323061678136],
    [0.025, -1.9599639845400543],
    [1e-9, -5.9978070150076865],
  ])('has its quantile for %f', (probability, z) => close(normalQuantile(probability), z));
  it('has 0 in its middle', () => expect(normalQuantile(0.5)).toBe(0));
  it('ends at infinity', () => {
    expect(normalAbove(Number.POSITIVE_INFINITY)).toBe(0);
    expect(normalAbove(Number.NEGATIVE_INFINITY)).toBe(1);
    expect(normalBetween(Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY)).toBe(1);
  });
  it('keeps its digits between two places far out, on either side', () => {
    close(normalBetween(6, 7), 9.853078324938116e-10);
    expect(normalBetween(-7, -6)).toBe(normalBetween(6, 7));
    expect(normalBetween(1, 1)).toBe(0);
    expect(normalBetween(2, 1)).toBe(0);
  });
});

describe("Student's t", () => {
  it.each([
    [0.1, 1, 0.9365489651388929],
    [12.7, 1, 0.05002432768934416],
    [1000, 1, 0.0006366195601611178],
    [2.92, 16, 0.010016253415242454],
    [2.5, 16.75, 0.023120645492241736],
    [1e-5, 3, 0.9999926489480612],
    [4, 30, 0.00038184563608375686],
    [1.96, 1000, 0.050273184955748715],
    [6, 1000, 2.755369173377469e-9],
    [2, 100_000, 0.045502963457506464],
    [0.5, 5, 0.638298871640929],
    [25, 50, 6.426665413887108e-30],
  ])('lies outside ±%f with %f degrees of freedom', (t, freedom, chance) => {
    close(studentOutside(t, freedom), chance);
    expect(studentOutside(-t, freedom)).toBe(studentOutside(t, freedom));
  });
  it.each([
    [1, 0.95, 12.706204736174705],
    [2, 0.99, 9.924843200918293],
    [9, 0.9545, 2.3198094410224326],
    [16, 0.99, 2.9207816224251],
    [60, 0.9, 1.6706488649046365],
    [1000, 0.95, 1.9623390808264085],
  ])('with %f degrees of freedom covers %f', (freedom, coverage, t) =>
    close(coverageFactor(freedom, coverage), t),
  );
  it('is normal with infinitely many', () => {
    close(coverageFactor(Number.POSITIVE_INFINITY, 0.95), 1.9599639845400543);
    // The first term of Fisher's expansion: (z³ + z)/4ν.
    for (const freedom of [1e8, 1e11, 1e12, 1.01e12, 1e38, 1e250])
      close(coverageFactor(freedom, 0.95), 1.959963984540054 + 2.372270567 / freedom, 2e-12);
  });
  it.each([0, 0.5, -1, Number.NaN])('refuses %f degrees of freedom', (freedom) => {
    expect(() => coverageFactor(freedom, 0.95)).toThrow(RangeError);
    expect(() => studentOutside(1, freedom)).toThrow(RangeError);
  });
  it.each([0, 1, -0.1, 95, Number.NaN])('refuses to cover %f', (coverage) =>
    expect(() => coverageFactor(5, coverage)).toThrow(RangeError),
  );
});

describe('F', () => {
  it.each([
    [1.18046237440255, 4, 20, 0.3494474934021927],
    [15.946733567793, 1, 46, 0.00023268444833892548],
    [21, 8, 180, 2.5832643372689714e-22],
    [0.43372, 18, 60, 0.9741067200664882],
    [87.65, 19, 38, 1.3771118096175094e-25],
    [0.01, 2, 2, 0.9900990099009901],
    [3.5, 1, 1, 0.31250561891173007],
    [1.05, 5000, 5000, 0.042279866080243575],
    [200, 10, 40, 6.953787535332159e-31],
    [0.2, 30, 3, 0.9937451293981265],
  ])('is above %f with %i over %i degrees of freedom', (f, above, below, chance) =>
    close(fAbove(f, above, below), chance),
  );
  it.each([
    [0.975, 9, 18, 2.929112493123265],
    [0.025, 2, 18, 0.025353452033152396],
    [0.05, 18, 60, 0.4958735839639915],
    [0.95, 1, 5, 6.60789097370337],
    [0.975, 2, 78, 3.8689719121051374],
    // A χ² over its degrees of freedom.
    [0.975, 60, Number.POSITIVE_INFINITY, 1.38829458128622],
    [0.025, 60, Number.POSITIVE_INFINITY, 0.6746958007140305],
    [0.05, 2, Number.POSITIVE_INFINITY, 0.05129329438755053],
    [0.95, 1, Number.POSITIVE_INFINITY, 3.841458820694126],
    [0.025, Number.POSITIVE_INFINITY, 60, 1 / 1.38829458128622],
  ])('has its quantile for %f with %f over %f', (probability, above, below, f) =>
    close(fQuantile(probability, above, below), f),
  );
  it('begins at 0 and ends at infinity', () => {
    expect(fAbove(0, 3, 4)).toBe(1);
    expect(fAbove(Number.POSITIVE_INFINITY, 3, 4)).toBe(0);
  });
});

describe('an independent library agrees, to what it is good for', () => {
  const { jStat } = jstat;
  const freedom = fc.integer({ min: 1, max: 300 });
  it('on the normal distribution', () =>
    fc.assert(
      fc.property(fc.double({ min: -6, max: 6, noNaN: true }), (z) => {
        expect(1 - normalAbove(z)).toBeCloseTo(jStat.normal.cdf(z, 0, 1), 9);
      }),
      LAW,
    ));
  it("on Student's t", () =>
    fc.assert(
      fc.property(fc.double({ min: 0, max: 20, noNaN: true }), freedom, (t, n) => {
        expect(studentOutside(t, n)).toBeCloseTo(2 * (1 - jStat.studentt.cdf(t, n)), 6);
      }),
      LAW,
    ));
  it('on F', () =>
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 30, noNaN: true }), freedom, freedom, (f, above, below) => {
        expect(1 - fAbove(f, above, below)).toBeCloseTo(jStat.centralF.cdf(f, above, below), 8);
      }),
      LAW,
    ));
  it('on χ², through F', () =>
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), freedom, (probability, n) => {
        const ours = n * fQuantile(probability, n, Number.POSITIVE_INFINITY);
        expect(ours / jStat.chisquare.inv(probability, n)).toBeCloseTo(1, 6);
      }),
      LAW,
    ));
});

describe('a chance', () => {
  const z = fc.double({ min: -40, max: 40, noNaN: true });
  it('falls as the value rises', () =>
    fc.assert(
      fc.property(z, z, (a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(normalAbove(high)).toBeLessThanOrEqual(normalAbove(low));
        expect(fAbove(high + 41, 3, 7)).toBeLessThanOrEqual(fAbove(low + 41, 3, 7));
      }),
      LAW,
    ));
  it('comes back from its quantile', () =>
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.integer({ min: 1, max: 500 }),
        (chance, n) => {
          expect(normalAbove(-normalQuantile(chance))).toBeCloseTo(chance, 12);
          expect(1 - studentOutside(coverageFactor(n, chance), n)).toBeCloseTo(chance, 12);
          expect(1 - fAbove(fQuantile(chance, n, 5), n, 5)).toBeCloseTo(chance, 12);
        },
      ),
      LAW,
    ));
});
