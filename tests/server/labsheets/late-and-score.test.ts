import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type DueRule,
  isClosed,
  itemScore,
  lateness,
  partsScore,
  sheetScore,
  weighted,
} from '../../../server/labsheets/index.ts';

const DUE = '2026-10-02T21:59:00.000Z';
const rule = (over: Partial<DueRule> = {}): DueRule => ({
  dueAt: DUE,
  latePercent: 10,
  lateDays: 7,
  ...over,
});
const overdue = (hours: number) => new Date(Date.parse(DUE) + hours * 3_600_000).toISOString();

describe('late work', () => {
  it.each([
    ['to the minute is in time', 0, 0, 1],
    ['one minute over has begun a day', 1 / 60, 1, 0.9],
    ['24 hours over is one day', 24, 1, 0.9],
    ['a minute more is two', 24 + 1 / 60, 2, 0.8],
    ['the last day still counts', 7 * 24, 7, 0.3],
    ['after it nothing is left', 7 * 24 + 1 / 60, 8, 0],
  ])('%s', (_, hours, days, factor) => {
    const found = lateness(rule(), overdue(hours));
    expect(found.days).toBe(days);
    expect(found.factor).toBeCloseTo(factor, 12);
  });

  it('never leaves less than nothing, and never closes where no last day is set', () => {
    const strict = rule({ latePercent: 30, lateDays: null });
    expect(lateness(strict, overdue(24 * 40)).factor).toBe(0);
    expect(isClosed(strict, overdue(24 * 400))).toBe(false);
    expect(isClosed(rule(), overdue(24 * 8))).toBe(true);
    expect(isClosed(rule({ lateDays: 0 }), overdue(1))).toBe(true);
    expect(isClosed(rule({ dueAt: null }), overdue(1e4))).toBe(false);
  });

  it('is never worth more for being later', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -100, max: 1000, noNaN: true }),
        fc.double({ min: 0, max: 1000, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.option(fc.integer({ min: 0, max: 30 })),
        (from, more, latePercent, lateDays) => {
          const one = rule({ latePercent, lateDays });
          return lateness(one, overdue(from)).factor >= lateness(one, overdue(from + more)).factor;
        },
      ),
    );
  });
});

describe('the score', () => {
  it('of an attempt weighs each criterion: half the reading, all else, at 10, 20, 60 and 10', () => {
    const full = { setUp: 30, procedure: 20, reading: 30, verdict: 20 };
    const weights = { setUp: 10, procedure: 20, reading: 60, verdict: 10 };
    expect(weighted({ ...full, reading: 15 }, weights)).toBeCloseTo(10 + 20 + 30 + 10, 12);
    expect(weighted(full, weights)).toBeCloseTo(100, 12);
  });

  it('of an item is the best after what lateness takes off, or the last', () => {
    // In time 60; a day late 80 less 10 % is 72; two days late 85 less 20 % is 68.
    const done = [
      { percent: 85, at: overdue(30) },
      { percent: 60, at: overdue(-30) },
      { percent: 80, at: overdue(3) },
    ];
    expect(itemScore(done, rule(), 'best')).toBeCloseTo(72, 12);
    expect(itemScore(done, rule(), 'last')).toBeCloseTo(68, 12);
    expect(itemScore([], rule(), 'best')).toBeNull();
  });

  it('of questions counts each at its own moment: 3 of 4 right, one of them a day late', () => {
    const at = (hours: number) => ({ percent: 100, at: overdue(hours) });
    expect(partsScore([at(-1), at(-2), at(5)], 4, rule())).toBeCloseTo((100 + 100 + 90) / 4, 12);
    expect(partsScore([], 4, rule())).toBeNull();
  });

  it('of a sheet leaves out what is missing until it is due, and counts it as nothing from then on', () => {
    const items = [
      { share: 100, score: 90 },
      { share: 50, score: null },
      { share: 0, score: 10 },
    ];
    expect(sheetScore(items, rule(), overdue(-1))).toEqual({ score: 90, soFar: true });
    expect(sheetScore(items, rule(), overdue(1))).toEqual({ score: 60, soFar: false });
    expect(sheetScore(items, rule({ dueAt: null }), overdue(1))).toEqual({ score: 90, soFar: true });
    expect(sheetScore([{ share: 0, score: 10 }], rule(), overdue(1))).toEqual({ score: null, soFar: false });
    expect(sheetScore([{ share: 5, score: null }], rule(), overdue(-1))).toEqual({
      score: null,
      soFar: true,
    });
  });
});
