import { describe, expect, it } from 'vitest';
import {
  type DefinitionOf,
  gradeAttempt,
  type IndicatorCheckSheet,
  judgeIndicator,
} from '../../server/engine/index.ts';
import { type CheckHabits, observeIndicatorCheck } from '../support/indicator-observer.ts';

const work = (seed: number, habits: CheckHabits = {}, level: 1 | 2 | 3 = 2) => {
  const definition: DefinitionOf<'indicator-check'> = { kind: 'indicator-check', level };
  const attempt = observeIndicatorCheck(definition, seed, habits);
  return { ...attempt, grade: gradeAttempt(attempt.bench, attempt.actions, attempt.sheet) };
};
const SEEDS = Array.from({ length: 60 }, (_, seed) => seed);
const withFault = (fault: string) => SEEDS.filter((seed) => work(seed).bench.fault === fault);
const over = (sheet: IndicatorCheckSheet, limits: Record<string, unknown>) =>
  (['wholeRange', 'oneTurn', 'adjacent', 'hysteresis', 'repeatability'] as const).filter(
    (name) => (sheet[name] ?? 0) > Number(limits[name]) + 1e-9,
  );

describe('each hidden fault shows in its own figure', () => {
  it.each([
    ['sound', []],
    ['slow', ['wholeRange']],
    ['periodic', ['oneTurn', 'adjacent']],
    ['hysteresis', ['hysteresis']],
    ['sticky', ['hysteresis']],
  ])('%s', (fault, figures) => {
    const seeds = withFault(fault);
    expect(seeds.length).toBeGreaterThan(3);
    for (const seed of seeds) {
      const { sheet, bench } = work(seed);
      const found = over(sheet, { ...bench.limits });
      if (fault === 'sound') expect(found).toEqual([]);
      expect(found).toEqual(expect.arrayContaining(figures));
    }
  });

  it('sticks at one place only, and there comes home when dropped but hangs when eased down', () => {
    for (const seed of withFault('sticky')) {
      const { sheet, bench } = work(seed);
      const { graduation } = bench.dial;
      const wide = sheet.points.filter(
        ({ up, down }) => (down ?? 0) - (up ?? 0) > bench.limits.hysteresis + 1e-9,
      );
      expect(wide.length).toBeGreaterThan(0);
      expect(wide.length).toBeLessThan(sheet.points.length);
      const width = Math.max(...wide.map(({ up, down }) => (down ?? 0) - (up ?? 0)));
      expect(width).toBeLessThan((bench.sticky?.widthMm ?? 0) + bench.error.hysteresisMm + 0.25 * graduation);
    }
  });
});

describe('an error that comes back every turn', () => {
  it('cannot be found at whole turns, and the remark says so; passing it is a stop', () => {
    for (const seed of withFault('periodic')) {
      const { sheet, bench, actions, grade } = work(seed, { leavesOut: ['inside-a-turn'] });
      const judged = judgeIndicator({ ...sheet, adjacent: 0 }, bench.limits, bench.dial);
      expect(judged).toBe('inside');
      const codes = grade.remarks.map(({ code }) => code);
      expect(codes).toContain('points-inside-a-turn-left-out');
      const passedOn = gradeAttempt(bench, actions, {
        ...sheet,
        verdict: 'inside',
        next: 'return-to-service',
      });
      expect(passedOn.stops.map(({ code }) => code)).toContain('bad-part-passed');
    }
  });
});

describe('a block that does not lie right', () => {
  const dirty = (why: 'grit' | 'burr') =>
    SEEDS.filter((seed) => work(seed, {}, 3).bench.badBlocks.some((block) => block.why === why));

  it.each([
    ['grit', 'wipe-blocks'],
    ['burr', 'other-stack'],
  ] as const)('%s reads high both ways until it is put right', (why, left) => {
    const seeds = dirty(why).slice(0, 12);
    expect(seeds.length).toBeGreaterThan(8);
    for (const seed of seeds) {
      const [good, bad] = [work(seed, {}, 3), work(seed, { leavesOut: [left] }, 3)];
      const block = good.bench.badBlocks.find((one) => one.why === why);
      const at = (sheet: IndicatorCheckSheet) => sheet.points.find((point) => point.at === block?.travel);
      const high = (way: 'up' | 'down') => (at(bad.sheet)?.[way] ?? 0) - (at(good.sheet)?.[way] ?? 0);
      const expected = block?.highMm ?? 0;
      // The gauge is set down elsewhere each time by a hair, and read to a tenth of a graduation.
      expect(Math.abs(high('up') - expected)).toBeLessThan(0.005);
      expect(Math.abs(high('down') - expected)).toBeLessThan(0.005);
      expect(bad.grade.remarks.map(({ code }) => code)).toContain('block-not-wrung');
      expect(good.grade.total).toBe(100);
    }
  });
});

describe('one step left out brings its own remark, on every bench', () => {
  it.each<[CheckHabits, string]>([
    [{ leavesOut: ['wipe'] }, 'base-not-wiped'],
    [{ leavesOut: ['align'] }, 'not-lined-up'],
    [{ leavesOut: ['tip'] }, 'tip-not-tried'],
    [{ leavesOut: ['clamp'] }, 'bezel-left-free'],
    [{ preloadTurns: 0.1 }, 'little-preload'],
    [{ leavesOut: ['wipe-blocks'] }, 'block-not-wrung'],
    [{ leavesOut: ['down'] }, 'one-direction-only'],
    [{ leavesOut: ['past'] }, 'not-past-the-end'],
    [{ leavesOut: ['inside-a-turn'] }, 'points-inside-a-turn-left-out'],
    [{ leavesOut: ['slowly'] }, 'repeated-one-way'],
    [{ repeats: 3 }, 'not-repeated-five-times'],
    [{ zeroAt: 1 }, 'zero-off-the-zero-block'],
  ])('%j: %s', (habits, code) => {
    for (const seed of SEEDS.slice(0, 12)) {
      const charged = work(seed, habits).grade.remarks.filter(({ pointsLost }) => pointsLost > 0);
      expect(charged.map((remark) => remark.code)).toContain(code);
      const careful = work(seed).grade.remarks.map((remark) => remark.code);
      expect(careful).not.toContain(code);
    }
  });
});

describe('students who go by a rule of thumb', () => {
  it('never have a bad indicator passed for the record by writing inside every time', () => {
    let bad = 0;
    for (const seed of SEEDS.slice(0, 30)) {
      const { bench, actions, sheet } = work(seed);
      const grade = gradeAttempt(bench, actions, { ...sheet, verdict: 'inside', next: 'return-to-service' });
      expect(grade.stops.length > 0).toBe(bench.truly === 'above');
      bad += Number(bench.truly === 'above');
    }
    expect(bad).toBeGreaterThan(8);
  });

  it('may put it out of use only when a second set-up agrees', () => {
    const seed = withFault('periodic')[0] ?? 0;
    const { bench, actions, sheet } = work(seed);
    const replaced = { ...sheet, next: 'replace' as const };
    const codes = (log: typeof actions) => gradeAttempt(bench, log, replaced).remarks.map(({ code }) => code);
    expect(codes(actions)).toContain('condemned-on-one-setting');
    expect(gradeAttempt(bench, [...actions, ...actions.map(again)], replaced).total).toBe(100);
  });
});

/** The same work once more; where the plunger stands by then no matter. */
const again = <A>(action: A): A => action;
