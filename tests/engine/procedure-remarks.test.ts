import { describe, expect, it } from 'vitest';
import { type Attempt, bars, charged, gradeOf, type Line } from './support/bench.ts';

/** A good attempt, changed in one way, loses this much of the 20 procedure points for this and nothing else of the procedure. */
function check(attempt: Attempt, code: string | null, lost: number) {
  const grade = gradeOf(attempt);
  const procedure = grade.remarks.filter(
    (remark) => remark.criterion === 'procedure' && remark.pointsLost > 0,
  );
  expect([...new Set(procedure.map((remark) => remark.code))]).toEqual(code === null ? [] : [code]);
  expect(20 - grade.points.procedure).toBeCloseTo(lost, 6);
}

const secondReading = (change: object) => (right: Parameters<NonNullable<Attempt['line']>>[0]) => ({
  ...right,
  readings: right.readings.map((reading, index) => (index === 1 ? { ...reading, ...change } : reading)),
});
const returns =
  (...graduations: (number | null)[]): Line =>
  (right) => ({
    ...right,
    readings: right.readings.map((reading, index) => {
      const value = graduations[index] ?? null;
      return { ...reading, returned: value === null ? null : value * 0.001 };
    }),
  });
const noSecond = { second: [], secondPress: [] };

describe('barring', () => {
  it('two turns of the crank and more loses nothing', () => check({}, null, 0));
  it('less than two turns, once over the lobe, loses half of it, and half for one pass', () => {
    const grade = gradeOf({ log: { first: bars(660), ...noSecond } });
    expect(charged(grade)).toEqual(['not-two-turns', 'one-pass-for-two-readings']);
    expect(grade.points.procedure).toBe(12);
  });
  it('719° and 720° are two turns, 718° are not', () => {
    const codes = [718, 719, 720].map((degrees) =>
      charged(gradeOf({ log: { first: bars(degrees), ...noSecond } })).includes('not-two-turns'),
    );
    expect(codes).toEqual([true, false, false]);
  });
  const rocking = {
    first: bars(300),
    firstPress: [],
    second: [...bars(-300), ...bars(300)],
    secondPress: [],
  };
  const rockingOverTheLobe: Attempt = {
    log: { first: [...bars(560)], firstPress: [], second: [...bars(-420), ...bars(-60)], secondPress: [] },
  };
  it('up, down and back to 60° of base circle twice stands for two turns', () =>
    check(rockingOverTheLobe, null, 0));
  it('but not where the sheet asks for 720°', () => {
    expect(charged(gradeOf({ ...rockingOverTheLobe, definition: { fullCycle: true } }))).toContain(
      'not-two-turns',
    );
  });
  it('that never reaches the lobe measures nothing', () => {
    const grade = gradeOf({
      log: { ...rocking, first: bars(60), second: [] },
      line: (right) => ({ ...right, readings: [], lift: 0.237 }),
    });
    expect(charged(grade)).toContain('lobe-never-came-up');
    expect(grade.points.procedure).toBe(0);
  });
});

describe('backing up', () => {
  const back = (degrees: number): Attempt => ({
    log: { first: [...bars(200), { type: 'bar', degrees: -degrees }, ...bars(520 + degrees)] },
  });
  it('by 10° with no more taken back is charged', () => check(back(10), 'backed-up', 4));
  it('by 29° is charged, by 30° made good', () => {
    check(back(29), 'backed-up', 4);
    check(back(30), null, 0);
  });
  it('after the last lobe has come down again is no fault', () => {
    check({ log: { second: [...bars(715), { type: 'bar', degrees: -10 }, ...bars(15)] } }, null, 0);
  });
  it('that could not be done is no backing up', () =>
    check({ log: { first: [{ type: 'bar', degrees: -5000 }, ...bars(720)] } }, null, 0));
});

describe('two readings', () => {
  it('one alone is charged', () =>
    check({ line: (right) => ({ ...right, readings: right.readings.slice(0, 1) }) }, 'one-reading', 4));
  it('two from one pass is charged', () => {
    expect(
      charged(
        gradeOf({
          log: noSecond,
          line: (right) => ({ ...right, readings: [right.readings[0], right.readings[0]] as never }),
        }),
      ),
    ).toContain('one-pass-for-two-readings');
  });
  it('a graduation apart agree', () =>
    check(
      {
        line: (right) =>
          secondReading({ lift: (right.readings[0]?.lift ?? 0) + 0.001, pointer: null, turns: null })(right),
      },
      null,
      0,
    ));
  it('that were misread are charged as readings, not again here', () => {
    check(
      { line: (right) => secondReading({ lift: (right.readings[0]?.lift ?? 0) + 0.003 })(right) },
      null,
      0,
    );
  });
  it('that the gauge itself showed apart call for a third; half is charged where it is left at that', () => {
    const touchOften = Array.from({ length: 12 }, () => ({ type: 'press' as const }));
    const grade = gradeOf({ log: { clamp: [], firstPress: touchOften } });
    const remark = grade.remarks.find(({ code }) => code === 'readings-disagree');
    expect(remark?.pointsLost).toBe(2);
    expect(Number(remark?.values.apartGraduations)).toBeGreaterThan(1);
    const third = gradeOf({ log: { clamp: [], firstPress: touchOften, secondPress: bars(720) } });
    expect(third.remarks.map(({ code }) => code)).not.toContain('readings-disagree');
  });
});

describe('the return', () => {
  it('written as seen is right', () => check({ line: returns(0, 0) }, null, 0));
  it('not written is charged for each reading', () => {
    check({ line: returns(null, 0) }, 'return-not-written', 2);
    check({ line: returns(null, null) }, 'return-not-written', 4);
  });
  it('three graduations up the end of the ramp is where it may have been read', () =>
    check({ line: returns(3, 0) }, null, 0));
  it('seven graduations off is misread', () => check({ line: returns(7, 0) }, 'return-misread', 2));
  it('two graduations below is misread, one is not', () => {
    check({ line: returns(-2, 0) }, 'return-misread', 2);
    check({ line: returns(-1, 0) }, null, 0);
  });
  it('not seen is charged', () => {
    const grade = gradeOf({ log: { second: bars(360), secondPress: [] } });
    expect(grade.remarks.map(({ code }) => code)).toContain('return-not-seen');
  });

  it('that was off when the base circle came is charged when it is left at that', () => {
    // The bezel, left free, goes with the hand at the top, before the lobe comes down.
    const touchOften = Array.from({ length: 12 }, () => ({ type: 'press' as const }));
    const log = {
      clamp: [],
      first: [...bars(360), ...touchOften, ...bars(360)],
      firstPress: [],
      ...noSecond,
    };
    const seen = (gradeOf({ log }).trace[0]?.travel.at(-1) ?? 0) * 1000;
    expect(Math.abs(seen)).toBeGreaterThan(4);
    const oneLine: Line = (right) => ({
      ...right,
      readings: right.readings
        .slice(0, 1)
        .map((reading) => ({ ...reading, returned: Math.round(seen) * 0.001 })),
    });
    expect(gradeOf({ log, line: oneLine }).remarks.map(({ code }) => code)).toContain('zero-not-back');
    const zeroedAgain = { ...log, second: [{ type: 'zero' as const }, ...bars(720)] };
    expect(gradeOf({ log: zeroedAgain, line: oneLine }).remarks.map(({ code }) => code)).not.toContain(
      'zero-not-back',
    );
  });
});

describe('the engine left to itself at compression', () => {
  it('is spoken of and costs nothing', () => {
    const grade = gradeOf({
      log: { first: [...bars(720, 10).map((action) => ({ ...action, hold: 0 }) as never), ...bars(720)] },
    });
    const remark = grade.remarks.find(({ code }) => code === 'let-go-at-compression');
    expect(remark?.pointsLost).toBe(0);
    expect(remark?.criterion).toBeNull();
    expect(Number(remark?.values.times)).toBeGreaterThan(3);
  });
});
