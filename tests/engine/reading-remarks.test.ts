import { describe, expect, it } from 'vitest';
import { checkProcedure } from '../../server/engine/exercises/cam-lift/check-procedure.ts';
import { foldLog, runsOf } from '../../server/engine/exercises/cam-lift/history.ts';
import { evidenceFor } from '../../server/engine/exercises/cam-lift/match-readings.ts';
import { passesOf } from '../../server/engine/exercises/cam-lift/passes.ts';
import { type CamLiftAction, gradeAttempt, type WrittenLobe } from '../../server/engine/index.ts';
import { bars, charged, gradeOf, logOf, plainBench, rightLine, stepThrough } from './support/bench.ts';

const bench = plainBench();
const log = logOf(bench);
const shown = gradeAttempt(bench, log, { lobes: [] }).lobes[0]?.shown.flatMap((one) => one ?? []) ?? [];
const mean = shown.reduce((sum, one) => sum + one, 0) / shown.length;

/** The lift line this many graduations from what the gauge showed, on average over its two passes. */
function gradeOff(graduations: number) {
  const line = { ...rightLine(bench, log), lift: mean + graduations * 0.001 };
  return gradeAttempt(bench, log, { lobes: [line] });
}

describe('the points of a reading', () => {
  it.each([
    [0, 30],
    [0.99, 30],
    [-0.99, 30],
    [1.01, 15],
    [-1.01, 15],
    [1.99, 15],
    [-1.99, 15],
    [2.01, 0],
    [-2.01, 0],
    [100, 0],
  ])('%f graduations off: %i of 30', (off, points) => {
    expect(gradeOff(off).points.reading).toBe(points);
  });

  it('are remarked on with how far off and where the high point was', () => {
    const remark = gradeOff(3).remarks.find(({ code }) => code === 'reading-off');
    expect(remark?.values).toEqual({ offGraduations: 3, wholeTurns: 0 });
    expect(log[remark?.at ?? -1]?.type).toBe('bar');
    expect(gradeOff(-100).remarks.find(({ code }) => code === 'reading-off')?.values.wholeTurns).toBe(-1);
  });

  it('are none, said once, for a lift that is not written', () => {
    const grade = gradeOf({
      line: (right) => ({
        ...right,
        lift: null,
        readings: right.readings.map((one) => ({ ...one, lift: null, turns: null, pointer: null })),
      }),
    });
    expect(grade.points.reading).toBe(0);
    expect(charged(grade)).toContain('lift-not-written');
  });

  it('are none for a reading of a lobe nobody measured, and the run is stopped', () => {
    const grade = gradeAttempt(bench, [], { lobes: [rightLine(bench, log)] });
    expect(grade.points).toEqual({ setUp: 0, procedure: 0, reading: 0, verdict: 20 });
    expect(grade.stops.map(({ code }) => code)).toEqual(['reading-without-measurement']);
    expect(charged(grade)).toContain('nothing-measured');
  });

  it('come from the boxes where the lift is blank', () => {
    expect(
      gradeOf({
        line: (right) => ({
          ...right,
          lift: null,
          readings: right.readings.map((one) => ({ ...one, lift: null })),
        }),
      }).total,
    ).toBe(100);
  });

  it('are for a good reading of a bad set-up too', () => {
    const log: CamLiftAction[] = [{ type: 'move', position: 3 }, { type: 'seat' }];
    const grade = gradeOf({
      hidden: { tappet: { fault: 'dull-stop', hungMm: 0.8 } },
      log: { seat: log, firstPress: [], secondPress: [] },
    });
    expect(grade.points.reading).toBe(30);
    expect(grade.points.setUp).toBe(23);
  });

  it('are not taken for a drifted zero that was set again: each pass counts from its own', () => {
    const grade = gradeOf({
      log: {
        clamp: [],
        firstPress: [
          ...Array.from({ length: 12 }, () => ({ type: 'press' as const })),
          { type: 'zero' },
          { type: 'clamp' },
        ],
      },
    });
    expect(grade.points.reading).toBe(30);
    expect(grade.mistakes).toEqual([]);
  });
});

describe('the pass a reading was taken from', () => {
  it('is another for each reading, even where both are written down at the end', () => {
    const atTheEnd: CamLiftAction[] = ([1, 2] as const).map((reading) => ({
      type: 'note',
      position: 3,
      reading,
      box: 'lift',
    }));
    expect(gradeOf({ log: { secondPress: atTheEnd } }).total).toBe(100);
  });

  it('came back to where the pointer stood before the bezel was turned again, not to the new zero', () => {
    const touchOften = Array.from({ length: 12 }, () => ({ type: 'press' as const }));
    const log = logOf(bench, {
      clamp: [],
      first: [...bars(360), ...touchOften, ...bars(360)],
      firstPress: [{ type: 'zero' }],
    });
    const [first] = runsOf(foldLog(bench, log)).flatMap((run) => passesOf(bench, run));
    const { low, high } = first?.returned ?? { low: 0, high: 0 };
    expect(low > 4 || high < -4).toBe(true);
  });
});

describe('what was written of another lobe', () => {
  it('is no note of this one', () => {
    const notes = (position: number): CamLiftAction[] => [
      { type: 'note', position, reading: 1, box: 'lift' },
    ];
    const runOf = (position: number) =>
      runsOf(foldLog(bench, [...logOf(bench, { firstPress: notes(position) })]))[0];
    expect(runOf(3)?.notes).toHaveLength(1);
    expect(runOf(5)?.notes).toHaveLength(0);
  });
});

describe('a reading written down after the high point had gone by', () => {
  it('is not taken for one short of it, though the pointer stood there as it was written', () => {
    const high = (shown[0] ?? 0) * 1000;
    const { steps } = stepThrough(bench, logOf(bench, { first: bars(720, 0.1) }));
    const pointer = steps.slice(-7200 - 14, -14).map((step) => step.moments.at(-1)?.graduations ?? 0);
    const falling = pointer.findIndex((at, tenth) => tenth > 3600 && at <= high - 100);
    expect(Math.abs((pointer[falling] ?? 0) - (high - 100))).toBeLessThan(0.5);
    const degrees = (falling + 1) / 10;
    const note: CamLiftAction = { type: 'note', position: 3, reading: 1, box: 'lift' };
    const grade = gradeOf({
      log: { first: [...bars(degrees), note, ...bars(720 - degrees)] },
      line: (right) => ({
        ...right,
        readings: right.readings.map((one, index) =>
          index === 0 ? { ...one, turns: null, pointer: null, lift: (one.lift ?? 0) - 0.1 } : one,
        ),
      }),
    });
    expect(grade.mistakes[0]).toMatchObject({ reading: 1, how: 'one', mistakes: ['missed-turn'] });
  });
});

describe('a return', () => {
  /** Both returns written as seen, the pointer having come back to this many graduations at the nearest. */
  function codesFor(graduations: number): string[] {
    const right = rightLine(bench, log);
    const written: WrittenLobe = {
      ...right,
      readings: right.readings.map((one) => ({ ...one, returned: graduations * 0.001 })),
    };
    const runs = runsOf(foldLog(bench, log));
    const passes = runs
      .flatMap((run) => passesOf(bench, run))
      .map((pass) => ({ ...pass, returned: { low: graduations, high: graduations } }));
    const checks = checkProcedure(bench, evidenceFor(bench, runs, passes, written), 20);
    return [...new Set(checks.flatMap(({ remark }) => remark?.code ?? []))];
  }
  it.each([[0], [0.5], [1], [-1], [1.49], [-1.49]])('at %f graduations is noted and left', (at) =>
    expect(codesFor(at)).toEqual([]),
  );
  it.each([[1.51], [-1.51], [2], [-30]])('at %f graduations calls for a new zero', (at) =>
    expect(codesFor(at)).toEqual(['zero-not-back']),
  );
});
