import { describe, expect, it } from 'vitest';
import { type FollowUp, gradeAttempt, judge, type Verdict } from '../../server/engine/index.ts';
import {
  type Attempt,
  charged,
  gradeOf,
  hide,
  type Line,
  logOf,
  plainBench,
  rightLine,
} from './support/bench.ts';

const says =
  (verdict: Verdict | null, next: FollowUp | null): Line =>
  (right) => ({ ...right, verdict, next });

/** An attempt on a lobe of this lift (limits 0.233 to 0.241 in), with this verdict and follow-up, keeps these verdict points. */
function check(
  liftIn: number,
  verdict: Verdict | null,
  next: FollowUp | null,
  codes: string[],
  points: number,
) {
  const grade = gradeOf({ hidden: { liftIn }, line: says(verdict, next) });
  expect(charged(grade)).toEqual(codes);
  expect(grade.points.verdict).toBeCloseTo(points, 6);
}

describe('a verdict', () => {
  it('inside, returned to service', () => check(0.237, 'inside', 'return-to-service', [], 20));
  it('below, measured again', () => check(0.22, 'below', 'measure-again', [], 20));
  it('above, measured again', () => check(0.25, 'above', 'measure-again', [], 20));
  it('above, set-up corrected', () => check(0.25, 'above', 'correct-set-up', [], 20));
  it('not written', () =>
    check(0.237, null, 'return-to-service', ['verdict-not-written', 'next-without-verdict'], 0));
  it('below for a lobe that is inside', () => check(0.237, 'below', 'measure-again', ['verdict-wrong'], 8));
  it('above for a lobe that is below', () =>
    check(0.22, 'above', 'measure-again', ['limit-side-swapped'], 8));
  it('inside for a bad lobe loses everything', () =>
    check(0.22, 'inside', 'return-to-service', ['bad-lobe-passed'], 0));
  it('inside for a lobe built up above the limit loses everything', () =>
    check(0.25, 'inside', 'return-to-service', ['bad-lobe-passed'], 0));
});

describe('what next', () => {
  it('not written', () => check(0.237, 'inside', null, ['next-not-written'], 12));
  it('replacing a lobe inside limits', () =>
    check(0.237, 'inside', 'replace', ['replaced-inside-limits'], 12));
  it('measuring a good lobe again', () => check(0.237, 'inside', 'measure-again', ['next-not-the-best'], 16));
  it('replacing on one set-up', () => check(0.22, 'below', 'replace', ['condemned-on-one-set-up'], 12));
  it('returning a lobe outside limits', () =>
    check(0.22, 'below', 'return-to-service', ['returned-outside-limits'], 12));
  it('correcting the set-up for a low lobe is not the best', () =>
    check(0.22, 'below', 'correct-set-up', ['next-not-the-best'], 16));

  it('replacing once a second set-up agrees is right', () => {
    const bench = plainBench({ liftIn: 0.22 });
    const again = logOf(bench, { seat: [], toBase: [], second: [], secondPress: [] });
    const log = [...logOf(bench, { second: [], secondPress: [] }), ...again];
    const right = rightLine(bench, log);
    expect(gradeAttempt(bench, log, { lobes: [{ ...right, verdict: 'below', next: 'replace' }] }).total).toBe(
      100,
    );
  });
});

describe('stops', () => {
  const codes = (attempt: Attempt) => gradeOf(attempt).stops.map(({ code }) => code);
  it('a bad lobe passed, with what it truly is', () => {
    const { stops } = gradeOf({ hidden: { liftIn: 0.22 }, line: says('inside', 'return-to-service') });
    expect(stops).toMatchObject([{ code: 'bad-lobe-passed', position: 3, values: { truly: 'below' } }]);
  });
  it('a good lobe condemned is no stop', () =>
    expect(codes({ line: says('below', 'measure-again') })).toEqual([]));
  it('a whole turn left standing', () =>
    expect(
      codes({
        line: (right) => ({
          ...right,
          lift: (right.lift ?? 0) - 0.1,
          verdict: 'below',
          next: 'measure-again',
        }),
      }),
    ).toEqual(['whole-turn-error']));
  it('a turn and two graduations is a whole turn, a turn and three is not', () => {
    const off = (graduations: number): Attempt => ({
      line: (right) => ({
        ...right,
        lift: Math.round((right.lift ?? 0) * 1000) / 1000 + 0.1 + graduations * 0.001,
        verdict: 'above',
        next: 'measure-again',
      }),
    });
    expect(codes(off(1))).toEqual(['whole-turn-error']);
    expect(codes(off(3))).toEqual([]);
  });
  it('a bad lobe the gauge could not show costs no points, and is still a stop', () => {
    // The lobe is low by 8 graduations; zeroed in a hollow that is as deep, the gauge shows it inside.
    const bench = plainBench();
    const log = logOf(bench);
    const line = rightLine(bench, log);
    const low = {
      ...bench,
      lobes: bench.lobes.map((truth, index) =>
        index === 2 ? { ...hide(truth, { liftIn: 0.237 }), lowestMm: truth.lowestMm + 0.2 } : truth,
      ),
    };
    const grade = gradeAttempt(low, log, { lobes: [line] });
    expect(grade.stops.map(({ code }) => code)).toEqual(['bad-lobe-passed']);
    expect(grade.points.verdict).toBe(20);
  });
});

describe('a verdict is carried through from the lift that was written', () => {
  it('right by a wrong reading, it keeps its points', () => {
    const grade = gradeOf({
      line: (right) => ({ ...right, lift: 0.22, verdict: 'below', next: 'measure-again' }),
    });
    expect(grade.points.reading).toBe(0);
    expect(grade.points.verdict).toBe(20);
  });
  it('without any lift there is nothing to carry', () => {
    const grade = gradeOf({
      line: (right) => ({ ...right, readings: [], lift: null, verdict: 'inside', next: 'return-to-service' }),
    });
    expect(charged(grade)).toEqual([
      'one-reading',
      'return-not-written',
      'lift-not-written',
      'verdict-without-lift',
    ]);
  });
});

describe('a lobe below the others', () => {
  /** Two lobes, the other at 0.2390 in. */
  function twoLobes(liftIn: number, next: FollowUp) {
    const plain = plainBench({ liftIn }, { positions: [2, 3] });
    const bench = {
      ...plain,
      lobes: plain.lobes.map((truth, index) => (index === 1 ? hide(truth, { liftIn: 0.239 }) : truth)),
    };
    const first = logOf(bench, {}, 2);
    const barred = first.reduce((sum, action) => sum + (action.type === 'bar' ? action.degrees : 0), 0);
    const second = logOf({ ...bench, startCrankDeg: bench.startCrankDeg + barred }, {}, 3);
    const log = [...first, ...second];
    const lift = (position: number) => (position === 2 ? 0.239 : liftIn);
    const lobes = [2, 3].map((position) => ({
      ...rightLine(bench, log, position),
      lift: lift(position),
      verdict: 'inside' as const,
      next: position === 3 ? next : ('return-to-service' as const),
    }));
    return gradeAttempt(bench, log, { lobes })
      .remarks.filter(({ criterion, pointsLost }) => criterion === 'verdict' && pointsLost > 0)
      .map(({ code }) => code);
  }
  it('by 5 graduations is measured again, inside limits or not', () => {
    expect(twoLobes(0.234, 'return-to-service')).toEqual(['below-the-others']);
    expect(twoLobes(0.234, 'measure-again')).toEqual([]);
  });
  it('by 2 to 4 graduations may go either way: a reading is good to one', () => {
    for (const lift of [0.235, 0.236, 0.237]) {
      expect(twoLobes(lift, 'return-to-service')).toEqual([]);
      expect(twoLobes(lift, 'measure-again')).toEqual([]);
    }
  });
  it('by 1 graduation goes back to service', () => {
    expect(twoLobes(0.238, 'return-to-service')).toEqual([]);
    expect(twoLobes(0.238, 'measure-again')).toEqual(['next-not-the-best']);
  });
});

describe('simple acceptance', () => {
  const cases: [number, number | null, number | null, Verdict][] = [
    [0.232, 0.233, 0.241, 'below'],
    [0.233, 0.233, 0.241, 'inside'],
    [0.241, 0.233, 0.241, 'inside'],
    [0.242, 0.233, 0.241, 'above'],
    [9, 0.233, null, 'inside'],
    [-9, null, 0.241, 'inside'],
    [0.1 + 0.2, 0.3, 0.3, 'inside'],
    [5, null, null, 'inside'],
  ];
  it.each(cases)('%f within %f and %f is %s', (measured, lower, upper, verdict) => {
    expect(judge(measured, null, { lower, upper }).verdict).toBe(verdict);
  });
  it('refuses limits the wrong way round, and what is not a number', () => {
    expect(() => judge(1, null, { lower: 2, upper: 1 })).toThrow(RangeError);
    expect(() => judge(Number.NaN, null, { lower: 1, upper: 2 })).toThrow(RangeError);
  });
});
