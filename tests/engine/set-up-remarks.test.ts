import { describe, expect, it } from 'vitest';
import { gradeAttempt } from '../../server/engine/index.ts';
import {
  type Attempt,
  bars,
  charged,
  degreesTo,
  gradeOf,
  type Log,
  logOf,
  POSITION,
  plainBench,
  rightLine,
  stateAfter,
} from './support/bench.ts';

const lost = (attempt: Attempt, code: string) =>
  gradeOf(attempt).remarks.find((remark) => remark.code === code)?.pointsLost;
const dullStop = { tappet: { fault: 'dull-stop', hungMm: 0.8 } } as const;
const slotOff = { tappet: { fault: 'slot-off-pin', hungMm: 7 } } as const;
const seatOnce = { seat: [{ type: 'move', position: POSITION }, { type: 'seat' }] } as const;
const zeroAt =
  (fromNoseDeg: number): Log =>
  (bench) => ({ toBase: bars(degreesTo(bench, POSITION, fromNoseDeg)) });

/** A good attempt, changed in one way, is charged for this and nothing else of the set-up. */
function check(attempt: Attempt, code: string | null, points: number) {
  const grade = gradeOf(attempt);
  const setUp = grade.remarks.filter(({ criterion, pointsLost }) => criterion === 'setUp' && pointsLost > 0);
  expect(setUp.map((remark) => remark.code)).toEqual(code === null ? [] : [code]);
  expect(grade.points.setUp).toBeCloseTo(points, 6);
  for (const { at, position } of setUp) {
    expect(at).not.toBeNull();
    expect(position).toBe(POSITION);
  }
}

describe('a good set-up', () => {
  it('loses nothing', () => {
    const grade = gradeOf();
    expect({
      total: grade.total,
      remarks: grade.remarks,
      stops: grade.stops,
      mistakes: grade.mistakes,
    }).toEqual({
      ...{ total: 100, remarks: [], stops: [], mistakes: [] },
    });
  });
  it('with no tappet fault loses nothing by the second push', () =>
    check({ log: seatOnce as never }, null, 30));
});

describe('what a set-up is charged for', () => {
  it('a tappet left hung on a dull stop', () =>
    check({ hidden: dullStop, log: { ...seatOnce } as never }, 'tappet-hung', 23));
  it('a slot left off its pin', () => check({ hidden: slotOff }, 'slot-off-pin', 23));
  it('no zero', () => check({ log: { zero: [] } }, 'not-zeroed', 23));
  it('the tip not lifted', () => check({ log: { tip: [] } }, 'tip-not-lifted', 27));
  it('the tip lifted twice, half', () =>
    check({ log: { tip: [{ type: 'lift-tip' }, { type: 'lift-tip' }] } }, 'tip-not-lifted', 28.5));
  it('the bezel not clamped', () => check({ log: { clamp: [] } }, 'bezel-not-clamped', 27));
  it('nothing at all, once for all of it', () => {
    const nothing = {
      seat: [],
      toBase: [],
      preload: [],
      tip: [],
      zero: [],
      clamp: [],
      first: [],
      firstPress: [],
      second: [],
      secondPress: [],
    };
    const grade = gradeOf({
      log: nothing,
      line: (right) => ({ ...right, readings: [], lift: null, verdict: null, next: null }),
    });
    expect(charged(grade)).toEqual([
      'no-set-up',
      'not-barred',
      'lift-not-written',
      'verdict-not-written',
      'next-not-written',
    ]);
    expect(grade.total).toBe(0);
  });
});

describe('the preload', () => {
  const preload = (turns: number): Attempt => ({ log: { preload: [{ type: 'preload', turns }] } });
  it('of a quarter turn is enough, as a hand sets it', () => check(preload(0.25), null, 30));
  it('of a tenth of a turn is too little', () => check(preload(0.1), 'preload-too-little', 25));
  it('of nothing is too little', () => expect(charged(gradeOf(preload(0)))).toContain('tip-left-the-work'));
  it('of a whole turn is no fault on a long gauge', () => check(preload(1), null, 30));

  const short = (turns: number): Attempt => ({
    definition: { dial: 'inch-0.0005-0.5' },
    log: { preload: [{ type: 'preload', turns }] },
  });
  // A 0.500 in gauge has 10 turns; the lift takes 4.74 of them.
  it('that leaves half a turn at the top is right', () => check(short(4.76), null, 30));
  it('that leaves a tenth of a turn at the top leaves too little', () =>
    check(short(5.16), 'travel-too-little', 25));
  it('that leaves nothing runs the travel out', () => check(short(5.5), 'travel-ran-out', 25));
  it('passes from 0.17 turns at zero, a hand being what it is, and not below', () => {
    const preloaded = { preload: [{ type: 'preload' as const, turns: 0.17 }] };
    const outcomes = Array.from({ length: 40 }, (_, seed) => {
      const bench = plainBench({}, {}, seed);
      const log = logOf(bench, preloaded);
      const zeroed = stateAfter(
        bench,
        logOf(bench, { ...preloaded, first: [], firstPress: [], second: [], secondPress: [] }),
      );
      const isLittle = (zeroed.indicator?.standMm ?? 0) / 2.54 < 0.17;
      const codes = charged(gradeAttempt(bench, log, { lobes: [rightLine(bench, log)] }));
      expect(codes).toEqual(isLittle ? ['preload-too-little'] : []);
      return isLittle;
    });
    expect(new Set(outcomes).size).toBe(2);
  });
});

describe('the zero', () => {
  it('anywhere on the base circle is right', () => {
    for (const deg of [260, 300, 360, 420, 460]) check({ log: zeroAt(deg) }, null, 30);
  });
  it('on the rising ramp is off the base circle', () => {
    const grade = gradeOf({ log: zeroAt(720 - 60) });
    const remark = grade.remarks.find(({ code }) => code === 'zero-off-base-circle');
    expect(remark?.values.where).toBe('ramp');
    expect(remark?.pointsLost).toBe(7);
  });
  it('on the nose is off the base circle', () => {
    const grade = gradeOf({ log: zeroAt(0) });
    expect(grade.remarks.find(({ code }) => code === 'zero-off-base-circle')?.values.where).toBe('nose');
  });
  it('on top of what has built up on the base circle makes the reading low, and is told apart', () => {
    const hidden = {
      condition: { buildUp: { place: 'base', heightMm: 0.1, atCamDeg: 180, halfWidthCamDeg: 20 } },
    } as const;
    const grade = gradeOf({ hidden, log: zeroAt(360) });
    expect(grade.remarks.find(({ code }) => code === 'zero-off-base-circle')?.values.where).toBe('build-up');
    expect(grade.points.reading).toBe(30);
    check({ hidden, log: zeroAt(270) }, null, 30);
  });
  it('with a sticky tappet still up is no zero of the base circle, though the cam is there', () => {
    const hidden = { tappet: { fault: 'sticky', sticksMm: 9 } } as const;
    // Seated on the nose and barred on to the base circle without pressing.
    const log: Log = (bench) => ({
      toBase: [...bars(degreesTo(bench, POSITION, 0)), { type: 'seat' }, ...bars(360)],
    });
    const grade = gradeOf({ hidden, log });
    const remark = grade.remarks.find(({ code }) => code === 'zero-off-base-circle');
    expect(remark?.values.where).toBe('tappet-up');
    expect(Number(remark?.values.aboveGraduations)).toBeGreaterThan(200);
  });
  it('is not charged for run-out that stays within half a graduation over 60°', () => {
    for (let phase = 0; phase < 360; phase += 45) {
      const hidden = { condition: { runOutMm: 0.8 * 0.0254, runOutPhaseCamDeg: phase } };
      for (const deg of [280, 360, 440]) check({ hidden, log: zeroAt(deg) }, null, 30);
    }
  });
  it('is charged once, in the set-up: a good reading of a bad zero is still a good reading', () => {
    const grade = gradeOf({ log: zeroAt(720 - 60) });
    expect(grade.points.reading).toBe(30);
  });
  it('costs 7 points of 30', () => expect(lost({ log: { zero: [] } }, 'not-zeroed')).toBe(7));
});

describe('the log of the plain bench', () => {
  it('ends on the base circle it began on', () => {
    const bench = plainBench();
    const barred = logOf(bench).reduce(
      (sum, action) => sum + (action.type === 'bar' ? action.degrees : 0),
      bench.startCrankDeg,
    );
    const nose = bench.lobes[POSITION - 1]?.lobe.noseCrankDeg ?? 0;
    expect((((barred - nose) % 720) + 720) % 720).toBeCloseTo(360, 6);
  });
});
