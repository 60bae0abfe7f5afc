import { describe, expect, it } from 'vitest';
import {
  findIndicatorLimits,
  INDICATOR_LIMITS,
  indicatorErrorPart,
  leanPart,
  repeatabilityPart,
  resolutionPart,
  shownLeaning,
  uncertaintyBudget,
  zeroReturnPart,
} from '../../../server/engine/index.ts';

const standardOf = (part: Parameters<typeof uncertaintyBudget>[0][number]) =>
  uncertaintyBudget([part]).combined;

describe('the budget of a dial indicator', () => {
  it('takes a graduation as a rectangle one graduation wide', () =>
    expect(standardOf(resolutionPart(0.001))).toBeCloseTo(0.001 / Math.sqrt(12), 12));
  it("takes the gauge's error either way", () =>
    expect(standardOf(indicatorErrorPart(0.015))).toBeCloseTo(0.015 / Math.sqrt(3), 12));
  it('takes repeatability from readings, with one degree of freedom less than there are', () => {
    const part = repeatabilityPart([0.236, 0.237, 0.238]);
    expect(standardOf(part)).toBeCloseTo(0.001 / Math.sqrt(3), 12);
    expect(part.degreesOfFreedom).toBe(2);
    expect(() => repeatabilityPart([0.237])).toThrow('two readings');
  });
  it('takes the zero by what it came back off by, whichever way', () => {
    expect(standardOf(zeroReturnPart(-0.0005))).toBe(standardOf(zeroReturnPart(0.0005)));
    expect(standardOf(zeroReturnPart(0.0005))).toBeCloseTo(0.0005 / Math.sqrt(3), 12);
  });
  it('takes a lean by what the indicator then shows too much', () => {
    const shown = shownLeaning(0.2, 8, 'leans-on-square-face');
    expect(standardOf(leanPart(shown, 8)) * Math.sqrt(3)).toBeCloseTo(shown - 0.2, 12);
    expect(standardOf(leanPart(-shown, 8))).toBe(standardOf(leanPart(shown, 8)));
    expect(standardOf(leanPart(0.2, 0))).toBe(0);
    expect(() => leanPart(0.2, 90)).toThrow(RangeError);
  });
  it('has a name of its own for each part, so that a budget can be read', () => {
    const parts = [
      resolutionPart(1),
      indicatorErrorPart(1),
      repeatabilityPart([1, 2]),
      zeroReturnPart(1),
      leanPart(1, 1),
    ];
    expect(parts.map(({ name }) => name)).toEqual([
      'resolution',
      'indicator error',
      'repeatability',
      'zero return',
      'lean',
    ]);
  });
  it('keeps a name given to a part', () => {
    expect(resolutionPart(1, 'zero read').name).toBe('zero read');
    expect(leanPart(1, 1).name).toBe('lean');
  });
  it('puts a lift of 5.5 mm together', () => {
    const whole = findIndicatorLimits(0.01, 10)?.wholeRangeUm ?? Number.NaN;
    const budget = uncertaintyBudget([
      resolutionPart(0.005, 'zero read'),
      resolutionPart(0.005, 'high point read'),
      indicatorErrorPart(whole / 1000),
      repeatabilityPart([5.5, 5.502, 5.498]),
      zeroReturnPart(0.003),
      leanPart(5.5, 2),
    ]);
    // By hand: 0.0025/√3 twice, 0.015/√3, 0.002/√3 with 2 degrees of freedom, 0.003/√3, 5.5 (1 − cos 2°)/√3.
    const lean = 5.5 * (1 - Math.cos(Math.PI / 90));
    const thirds = 2 * 0.0025 ** 2 + 0.015 ** 2 + 0.002 ** 2 + 0.003 ** 2 + lean ** 2;
    expect(budget.combined).toBeCloseTo(Math.sqrt(thirds / 3), 12);
    expect(budget.degreesOfFreedom).toBe(Math.floor((2 * thirds ** 2) / 0.002 ** 4));
  });
});

describe('limits of indicators', () => {
  it('belong to the shorter range on an edge, as printed', () => {
    expect(findIndicatorLimits(0.01, 5)?.wholeRangeUm).toBe(12);
    expect(findIndicatorLimits(0.01, 5.001)?.wholeRangeUm).toBe(15);
    expect(findIndicatorLimits(0.01, 10)?.wholeRangeUm).toBe(15);
  });
  it('are wider for small gauges', () =>
    expect(findIndicatorLimits(0.01, 10, 'bezel-under-50-or-back-plunger')?.wholeRangeUm).toBe(20));
  it('are not made up where the table has none', () => {
    expect(findIndicatorLimits(0.01, 101)).toBeUndefined();
    expect(findIndicatorLimits(0.01, 0)).toBeUndefined();
    expect(findIndicatorLimits(0.01, Number.NaN)).toBeUndefined();
    expect(findIndicatorLimits(0.001, 1, 'bezel-under-50-or-back-plunger')).toBeDefined();
    expect(findIndicatorLimits(0.0254, 5)).toBeUndefined();
  });
  it('never fall as the range grows', () => {
    INDICATOR_LIMITS.forEach((row, index) => {
      const next = INDICATOR_LIMITS[index + 1];
      if (next?.build !== row.build || next.graduationMm !== row.graduationMm) return;
      expect(next.rangeUpToMm).toBeGreaterThan(row.rangeUpToMm);
      expect(next.wholeRangeUm).toBeGreaterThanOrEqual(row.wholeRangeUm);
    });
  });
});
