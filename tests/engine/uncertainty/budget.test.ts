import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BudgetPart, coverageFactor, uncertaintyBudget } from '../../../server/engine/index.ts';
import { LAW } from '../../support/arbitraries/settings.ts';

const normal = (standard: number, more: Partial<BudgetPart> = {}): BudgetPart => ({
  name: 'part',
  distribution: 'normal',
  standard,
  ...(more as object),
});

describe('a part', () => {
  it.each([
    [{ name: 'a', distribution: 'normal', standard: 3 }, 3],
    [{ name: 'a', distribution: 'rectangular', halfWidth: 3 }, 3 / Math.sqrt(3)],
    [{ name: 'a', distribution: 'triangular', halfWidth: 3 }, 3 / Math.sqrt(6)],
    [{ name: 'a', distribution: 'arcsine', halfWidth: 3 }, 3 / Math.sqrt(2)],
    [{ name: 'a', distribution: 'expanded', expanded: 3, k: 2 }, 1.5],
  ] as const)('%j has its standard uncertainty', (part, standard) => {
    const { lines, combined } = uncertaintyBudget([part]);
    expect(lines[0]?.standard).toBeCloseTo(standard, 14);
    expect(combined).toBeCloseTo(standard, 14);
    expect(lines[0]?.share).toBeCloseTo(1, 14);
  });
  it('counts by the size of its sensitivity', () => {
    const [line] = uncertaintyBudget([normal(2, { sensitivity: -3 })]).lines;
    expect(line).toMatchObject({ standard: 2, sensitivity: -3, contribution: 6 });
  });
});

describe('a budget', () => {
  it('adds squares', () => {
    const { combined, lines } = uncertaintyBudget([normal(3), normal(4)]);
    expect(combined).toBe(5);
    expect(lines.map(({ share }) => share)).toEqual([9 / 25, 16 / 25]);
  });
  it('takes k from t with degrees of freedom cut to a whole number', () => {
    const { effectiveDegrees, degreesOfFreedom, k, expanded, combined } = uncertaintyBudget([
      normal(1, { degreesOfFreedom: 4 }),
      normal(1, { degreesOfFreedom: 7 }),
    ]);
    // (1 + 1)² / (1/4 + 1/7)
    expect(effectiveDegrees).toBeCloseTo(4 / (1 / 4 + 1 / 7), 12);
    expect(degreesOfFreedom).toBe(10);
    expect(k).toBe(coverageFactor(10, 0.95));
    expect(expanded).toBe(k * combined);
  });
  it('does not lose a degree of freedom to rounding', () => {
    // Three equal parts have three times the degrees of freedom of one; in binary it comes out a hair less.
    const parts = Array.from({ length: 3 }, () => normal(0.7, { degreesOfFreedom: 4 }));
    const { effectiveDegrees, degreesOfFreedom } = uncertaintyBudget(parts);
    expect(effectiveDegrees).toBeLessThan(12);
    expect(degreesOfFreedom).toBe(12);
  });
  it('takes k from the normal distribution where all is known exactly', () =>
    expect(uncertaintyBudget([normal(1)])).toMatchObject({
      effectiveDegrees: Number.POSITIVE_INFINITY,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      k: coverageFactor(Number.POSITIVE_INFINITY, 0.95),
    }));
  it('takes another coverage, or k itself', () => {
    const parts = [normal(1, { degreesOfFreedom: 9 })];
    expect(uncertaintyBudget(parts, { coverage: 0.99 }).k).toBe(coverageFactor(9, 0.99));
    expect(uncertaintyBudget(parts, { k: 2 })).toMatchObject({ k: 2, expanded: 2 });
  });
  it('may hold nothing uncertain', () =>
    expect(uncertaintyBudget([normal(0, { degreesOfFreedom: 3 })])).toMatchObject({
      combined: 0,
      expanded: 0,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      lines: [{ share: 0 }],
    }));
  it.each([
    ['no parts', 'at least one part', []],
    ['a part without a name', 'needs a name', [{ ...normal(1), name: ' ' }]],
    ['a negative size', 'size of "part"', [normal(-1)]],
    ['a size that is no number', 'size of "part"', [normal(Number.NaN)]],
    [
      'a half-width without end',
      'size of "a"',
      [{ name: 'a', distribution: 'arcsine', halfWidth: Number.POSITIVE_INFINITY }],
    ],
    ['k of 0 in a part', 'factor k of "a"', [{ name: 'a', distribution: 'expanded', expanded: 1, k: 0 }]],
    [
      'k without end in a part',
      'factor k of "a"',
      [{ name: 'a', distribution: 'expanded', expanded: 1, k: Number.POSITIVE_INFINITY }],
    ],
    ['half a degree of freedom', 'degrees of freedom of "part"', [normal(1, { degreesOfFreedom: 0.5 })]],
    ['a sensitivity that is no number', 'sensitivity of "part"', [normal(1, { sensitivity: Number.NaN })]],
  ] as [string, string, BudgetPart[]][])('with %s is refused, and it is said why', (_, why, parts) => {
    expect(() => uncertaintyBudget(parts)).toThrow(RangeError);
    expect(() => uncertaintyBudget(parts)).toThrow(why);
  });
  it.each([{ coverage: 1 }, { coverage: 0 }, { k: 0 }, { k: Number.NaN }, { k: Number.POSITIVE_INFINITY }])(
    'with %j is refused',
    (coverage) => expect(() => uncertaintyBudget([normal(1)], coverage)).toThrow(RangeError),
  );
  it('with a k that cannot be says so', () =>
    expect(() => uncertaintyBudget([normal(1)], { k: 0 })).toThrow('coverage factor k'));
  it('names the part that is wrong', () =>
    expect(() => uncertaintyBudget([{ ...normal(-1), name: 'zero return' }])).toThrow('zero return'));
});

describe('whatever the parts', () => {
  const part: fc.Arbitrary<BudgetPart> = fc
    .record({
      // Sizes that do not drown one another, or their order could not matter.
      halfWidth: fc.integer({ min: 1, max: 999 }).map((size) => size / 1000),
      distribution: fc.constantFrom('rectangular' as const, 'triangular' as const, 'arcsine' as const),
      sensitivity: fc.constantFrom(-2, 0, 0.3, 1),
      degreesOfFreedom: fc.constantFrom(1, 2, 5.5, 30, Number.POSITIVE_INFINITY),
    })
    .map((fields) => ({ name: 'part', ...fields }));
  const parts = fc.array(part, { minLength: 1, maxLength: 6 });

  it('their order changes nothing at all', () =>
    fc.assert(
      fc.property(
        parts.chain((given) =>
          fc.tuple(fc.constant(given), fc.shuffledSubarray(given, { minLength: given.length })),
        ),
        ([given, shuffled]) => {
          const { lines: _, ...one } = uncertaintyBudget(given);
          const { lines: __, ...other } = uncertaintyBudget(shuffled);
          expect(other).toEqual(one);
        },
      ),
      LAW,
    ));
  it('one more never makes it smaller', () =>
    fc.assert(
      fc.property(parts, part, (given, more) => {
        expect(uncertaintyBudget([...given, more]).combined).toBeGreaterThanOrEqual(
          uncertaintyBudget(given).combined * (1 - 1e-12),
        );
      }),
      LAW,
    ));
  it('shares add up, and degrees of freedom lie between the fewest and the sum', () =>
    fc.assert(
      fc.property(parts, (given) => {
        const { lines, effectiveDegrees, combined } = uncertaintyBudget(given);
        if (combined === 0) return;
        expect(lines.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
        const degrees = lines.map(({ degreesOfFreedom }) => degreesOfFreedom);
        expect(effectiveDegrees).toBeGreaterThanOrEqual(Math.min(...degrees) * (1 - 1e-12));
        expect(effectiveDegrees).toBeLessThanOrEqual(
          degrees.reduce((sum, value) => sum + value, 0) * (1 + 1e-12),
        );
      }),
      LAW,
    ));
});
