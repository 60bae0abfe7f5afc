import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conformityProbability } from '../../../server/engine/decision/conformity.ts';
import { type DecisionRule, type JudgeLimits, judge } from '../../../server/engine/index.ts';
import { LAW } from '../../support/arbitraries/settings.ts';

/** Inches; U is one graduation. */
const LIMITS = { lower: 0.233, upper: 0.241 };
const ONE = { expanded: 0.001, k: 2 };

const guarded = (measured: number, limits: JudgeLimits = LIMITS, rule: DecisionRule = 'guarded') =>
  judge(measured, ONE, limits, rule).verdict;

describe('guarded acceptance', () => {
  it.each([
    [0.2319, 'below'],
    [0.232, 'too-close-to-call'],
    [0.233, 'too-close-to-call'],
    [0.2339, 'too-close-to-call'],
    [0.234, 'inside'],
    [0.237, 'inside'],
    [0.24, 'inside'],
    [0.2401, 'too-close-to-call'],
    [0.241, 'too-close-to-call'],
    [0.242, 'too-close-to-call'],
    [0.2421, 'above'],
  ])('with U of 0.001 in, 0.233 to 0.241 in: %f is %s', (measured, verdict) =>
    expect(guarded(measured)).toBe(verdict),
  );
  it('never passes an open side', () => {
    expect(guarded(99, { lower: 0.233, upper: null })).toBe('inside');
    expect(guarded(-99, { lower: null, upper: 0.241 })).toBe('inside');
    expect(guarded(0.2319, { lower: 0.233, upper: null })).toBe('below');
    expect(guarded(0.2421, { lower: null, upper: 0.241 })).toBe('above');
    expect(guarded(5, { lower: null, upper: null })).toBe('inside');
  });
  it('has nothing inside where U is wider than half the limits', () => {
    const narrow = { lower: 0.2, upper: 0.2015 };
    for (const measured of [0.199, 0.2, 0.2005, 0.201, 0.2015, 0.2025])
      expect(guarded(measured, narrow)).toBe('too-close-to-call');
  });
  it('takes another band, in U', () => {
    expect(guarded(0.2338, LIMITS, { guardBandInU: 0.83 })).toBe('too-close-to-call');
    expect(guarded(0.23384, LIMITS, { guardBandInU: 0.83 })).toBe('inside');
    expect(guarded(0.232, LIMITS, { guardBandInU: 0.83 })).toBe('below');
    expect(guarded(0.233, LIMITS, { guardBandInU: 0 })).toBe('inside');
  });
  it('is simple acceptance where U is 0', () => {
    for (const measured of [0.2329, 0.233, 0.241, 0.2411])
      expect(judge(measured, { expanded: 0, k: 2 }, LIMITS, 'guarded').verdict).toBe(
        judge(measured, null, LIMITS).verdict,
      );
  });
  it('bears binary rounding on every edge', () => {
    const limits = { lower: 0.3, upper: 0.9 };
    const tenth = { expanded: 0.1, k: 2 };
    // In binary 0.1 + 0.1 + 0.2 and 0.3 + 0.1, 0.9 − 0.1 and 0.7 + 0.1 differ in the last place.
    expect(judge(0.1 + 0.1 + 0.2, tenth, limits, 'guarded').verdict).toBe('inside');
    expect(judge(0.7 + 0.1, tenth, limits, 'guarded').verdict).toBe('inside');
    expect(judge(0.3 - 0.1, tenth, limits, 'guarded').verdict).toBe('too-close-to-call');
    expect(judge(0.2, tenth, limits, 'guarded').verdict).toBe('too-close-to-call');
    expect(judge(1.1 - 0.1, tenth, limits, 'guarded').verdict).toBe('too-close-to-call');
  });
});

describe('simple acceptance', () => {
  const simply = (measured: number, limits: JudgeLimits) => judge(measured, null, limits).verdict;

  it('never passes an open side, on either side of nought', () => {
    expect(simply(-99, { lower: null, upper: 0.241 })).toBe('inside');
    expect(simply(99, { lower: -0.241, upper: null })).toBe('inside');
    expect(simply(-99, { lower: null, upper: null })).toBe('inside');
  });
  it('takes what differs by less than a billionth for equal: of the unit, or of a value above it', () => {
    expect(simply(0.233 - 0.5e-9, LIMITS)).toBe('inside');
    expect(simply(0.233 - 1.5e-9, LIMITS)).toBe('below');
    expect(simply(0.241 + 0.5e-9, LIMITS)).toBe('inside');
    expect(simply(0.241 + 1.5e-9, LIMITS)).toBe('above');
    const thousand = { lower: 1000, upper: 2000 };
    expect(simply(1000 - 0.5e-6, thousand)).toBe('inside');
    expect(simply(1000 - 1.5e-6, thousand)).toBe('below');
    expect(simply(2000 + 1.5e-6, thousand)).toBe('inside');
    expect(simply(2000 + 2.5e-6, thousand)).toBe('above');
  });
});

describe('the probability of conformity', () => {
  it('is refused for a standard uncertainty that cannot be', () => {
    for (const standard of [-0.001, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => conformityProbability(0.237, standard, LIMITS)).toThrow('standard uncertainty');
    // Finite U and k, and still no finite u.
    expect(() => judge(0.237, { expanded: 1e308, k: 1e-3 }, LIMITS)).toThrow(RangeError);
  });
  it('is one half on a limit with the other far away', () =>
    expect(judge(0.233, { expanded: 0.0002, k: 2 }, LIMITS).probability).toBeCloseTo(0.5, 12));
  it('takes u as U over k', () =>
    expect(judge(0.2335, { expanded: 0.003, k: 3 }, LIMITS).probability).toBe(
      judge(0.2335, { expanded: 0.001, k: 1 }, LIMITS).probability,
    ));
  it('is 0 or 1 where nothing is uncertain', () => {
    const exactly = { expanded: 0, k: 2 };
    expect(judge(0.233, exactly, LIMITS).probability).toBe(1);
    expect(judge(0.2329, exactly, LIMITS).probability).toBe(0);
    expect(judge(0.1 + 0.2, exactly, { lower: 0.3, upper: 0.3 }).probability).toBe(1);
  });
  it('is 1 with both sides open', () =>
    expect(judge(5, ONE, { lower: null, upper: null }).probability).toBe(1));
  it('is not said without an uncertainty', () => expect(judge(5, null, LIMITS).probability).toBeNull());
  it('keeps its digits far outside', () => {
    const { probability } = judge(0, { expanded: 1, k: 1 }, { lower: 6, upper: 7 });
    expect(probability / 9.853078324938116e-10).toBeCloseTo(1, 12);
  });
});

describe('a judgement is refused', () => {
  it.each([
    ['without an uncertainty to guard with', null, LIMITS, 'guarded', 'needs an uncertainty'],
    ['with a negative U', { expanded: -1, k: 2 }, LIMITS, 'guarded', 'expanded uncertainty'],
    [
      'with an endless U',
      { expanded: Number.POSITIVE_INFINITY, k: 2 },
      LIMITS,
      'simple',
      'expanded uncertainty',
    ],
    ['with k of 0', { expanded: 1, k: 0 }, LIMITS, 'simple', 'coverage factor'],
    ['with k that is no number', { expanded: 1, k: Number.NaN }, LIMITS, 'guarded', 'coverage factor'],
    ['with a negative band', ONE, LIMITS, { guardBandInU: -0.1 }, 'guard band'],
    ['with limits the wrong way round', ONE, { lower: 2, upper: 1 }, 'guarded', 'lower limit'],
    ['with a limit that is no number', ONE, { lower: Number.NaN, upper: 1 }, 'guarded', 'A limit'],
    ['with a limit that is no number, simply', null, { lower: Number.NaN, upper: 1 }, 'simple', 'A limit'],
  ] as const)('%s', (_, uncertainty, limits, rule, why) => {
    // Callers in TypeScript cannot leave the uncertainty out of a guarded verdict; others can.
    const loosely = judge as (...given: unknown[]) => unknown;
    expect(() => loosely(0.5, uncertainty, limits, rule)).toThrow(RangeError);
    expect(() => loosely(0.5, uncertainty, limits, rule)).toThrow(why);
  });
  it.each([Number.NaN, Number.POSITIVE_INFINITY])('of %f', (measured) => {
    expect(() => guarded(measured)).toThrow(RangeError);
    expect(() => judge(measured, null, LIMITS)).toThrow('measured value');
  });
});

describe('whatever is measured', () => {
  /** Thousandths, so that no two values meet only by rounding. */
  const thousandths = (min: number, max: number) => fc.integer({ min, max }).map((value) => value / 1000);
  const measured = thousandths(-9000, 9000);
  const limits = fc
    .tuple(thousandths(-5000, 5000), thousandths(0, 5000))
    .map(([lower, width]) => ({ lower, upper: lower + width }));
  const uncertainty = fc.record({ expanded: thousandths(1, 3000), k: fc.constantFrom(1, 2, 2.13, 3) });
  const MIRRORED = {
    inside: 'inside',
    below: 'above',
    above: 'below',
    'too-close-to-call': 'too-close-to-call',
  };

  it('its mirror image is judged the other way round', () =>
    fc.assert(
      fc.property(measured, uncertainty, limits, (y, known, { lower, upper }) => {
        const one = judge(y, known, { lower, upper }, 'guarded');
        const other = judge(-y, known, { lower: -upper, upper: -lower }, 'guarded');
        expect(other.verdict).toBe(MIRRORED[one.verdict]);
        expect(other.probability).toBeCloseTo(one.probability, 14);
      }),
      LAW,
    ));
  it('the probability is one, and rises with wider limits', () =>
    fc.assert(
      fc.property(measured, uncertainty, limits, thousandths(0, 2000), (y, known, { lower, upper }, more) => {
        const narrow = judge(y, known, { lower, upper }).probability;
        const wide = judge(y, known, { lower: lower - more, upper }).probability;
        expect(narrow).toBeGreaterThanOrEqual(0);
        expect(wide).toBeGreaterThanOrEqual(narrow - 1e-15);
        expect(judge(y, known, { lower, upper: null }).probability).toBeGreaterThanOrEqual(narrow - 1e-15);
        expect(judge(y, known, { lower: null, upper: null }).probability).toBe(1);
      }),
      LAW,
    ));
  it('with one limit the probability rises with the value', () =>
    fc.assert(
      fc.property(measured, measured, uncertainty, (a, b, known) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        const of = (y: number) => judge(y, known, { lower: 0, upper: null }).probability;
        expect(of(high)).toBeGreaterThanOrEqual(of(low));
      }),
      LAW,
    ));
  it('a guarded verdict never contradicts the simple one', () =>
    fc.assert(
      fc.property(measured, uncertainty, limits, (y, known, both) => {
        const { verdict } = judge(y, known, both, 'guarded');
        if (verdict !== 'too-close-to-call') expect(judge(y, known, both).verdict).toBe(verdict);
      }),
      LAW,
    ));
  it('what is proven inside is so with what its band promises: one U of two u, 95.4 % and more', () =>
    fc.assert(
      fc.property(measured, limits, thousandths(1, 3000), (y, both, expanded) => {
        const { verdict, probability } = judge(y, { expanded, k: 2 }, both, 'guarded');
        if (verdict === 'inside') expect(probability).toBeGreaterThan(0.9544);
        if (verdict === 'below' || verdict === 'above') expect(probability).toBeLessThan(0.0228);
      }),
      LAW,
    ));
});
