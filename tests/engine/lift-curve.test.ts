import { describe, expect, it } from 'vitest';
import {
  act,
  type Grade,
  generateBench,
  gradeAttempt,
  type LiftCurveSheet,
  lookAt,
  type MotionLawName,
  motionLaw,
  startBench,
} from '../../server/engine/index.ts';
import { type CurveHabits, observeLiftCurve } from '../support/lift-curve-observer.ts';

const SEEDS = Array.from({ length: 8 }, (_, seed) => seed);
const work = (seed: number, habits: CurveHabits = {}, level: 1 | 2 | 3 = 2) =>
  observeLiftCurve({ kind: 'lift-curve', level }, seed, habits);
const gradeOf = (
  { bench, actions, sheet }: ReturnType<typeof work>,
  change = (same: LiftCurveSheet) => same,
): Grade => gradeAttempt(bench, actions, change(sheet));
const codes = (grade: Grade) =>
  grade.remarks.filter(({ pointsLost }) => pointsLost > 0).map(({ code }) => code);
const named = (grade: Grade) => grade.mistakes.flatMap(({ mistakes }) => mistakes);

const ATTEMPTS = SEEDS.map((seed) => work(seed));

describe('a step done badly on a lift curve', () => {
  it('brings its own remark, on every bench', () => {
    for (const [habits, code] of [
      [{ everyDeg: 15 }, 'points-too-far-apart'],
      [{ everyDeg: 9 }, 'flank-too-thin'],
      [{ overshootsDeg: 5 }, 'backed-up-a-little'],
      [{ zeroOnRamp: true }, 'zero-off-the-base-circle'],
    ] as const)
      for (const seed of SEEDS.slice(0, 3))
        expect({ seed, code, found: codes(gradeOf(work(seed, habits))).includes(code) }).toMatchObject({
          found: true,
        });
  }, 20_000);

  it('costs nothing where one overshoots, goes back 30° and comes forward again', () => {
    for (const seed of SEEDS.slice(0, 3)) expect(gradeOf(work(seed, { overshootsDeg: 30 })).total).toBe(100);
  }, 20_000);

  it('tells of the play of the gears where one reads on the way back, and shifts the centre by it', () => {
    for (const seed of SEEDS.slice(0, 4)) {
      const careful = work(seed);
      const backing = work(seed, { backsUpDeg: 10 });
      const grade = gradeOf(backing);
      const { backlashDeg } = backing.bench;
      const lag = grade.remarks.find(({ code }) => code === 'read-while-backing');
      expect(Math.abs(Number(lag?.values.lagDeg) - backlashDeg)).toBeLessThanOrEqual(0.051);
      expect(named(grade)).toContain('read-while-backing');
      // Charged once: in the procedure, not in the readings, which are what the gauge showed.
      expect(grade.points.reading).toBe(30);
      // Half a degree is what opening and closing are written to.
      const shift = (careful.sheet.centreDeg ?? 0) - (backing.sheet.centreDeg ?? 0);
      expect(Math.abs(shift - backlashDeg)).toBeLessThanOrEqual(0.76);
    }
  }, 20_000);

  it('finds a wheel that is off, with the stop and in the grade, at level 3 only', () => {
    let off = 0;
    for (const seed of SEEDS) {
      const bench = generateBench({ kind: 'lift-curve', level: 3 }, seed);
      const tried = act(bench, startBench(bench), { type: 'try-stop' });
      const { stops } = lookAt(bench, tried.state);
      const middle = ((stops?.forwardDeg ?? 0) + (stops?.backDeg ?? 0)) / 2;
      expect(middle).toBeCloseTo(bench.pointerOffDeg, 6);
      expect(generateBench({ kind: 'lift-curve', level: 2 }, seed).pointerOffDeg).toBe(0);
      if (Math.abs(middle) < 1) continue;
      off += 1;
      if (off <= 2) expect(codes(gradeOf(work(seed, { leavesOut: ['stop'] }, 3)))).toContain('wheel-off');
    }
    expect(off).toBeGreaterThan(1);
  });
});

describe('a sheet of a lift curve filled in wrongly', () => {
  const half = (value: number | null) => (value === null ? null : value / 2);
  it.each<[string, string, (sheet: LiftCurveSheet) => LiftCurveSheet]>([
    ['cam degrees for the width', 'crank-and-cam', (s) => ({ ...s, widthDeg: half(s.widthDeg) })],
    ['the width doubled', 'crank-and-cam', (s) => ({ ...s, widthDeg: 2 * (s.widthDeg ?? 0) })],
    ['the high point for the centre', 'high-point-for-centre', (s) => ({ ...s, centreDeg: s.highPointDeg })],
    [
      'the whole table in cam degrees',
      'crank-and-cam',
      (s) => ({ ...s, points: s.points.map((point) => ({ ...point, crankDeg: half(point.crankDeg) })) }),
    ],
    [
      'the value of a graduation doubled',
      'doubled',
      (s) => ({ ...s, points: s.points.map(({ crankDeg, lift }) => ({ crankDeg, lift: 2 * (lift ?? 0) })) }),
    ],
  ])('%s', (_, mistake, change) => {
    for (const attempt of ATTEMPTS) expect(named(gradeOf(attempt, change))).toContain(mistake);
  });

  it('names the width taken at the start of the lift, 1 mm or 0.100 in, and holds it against opening and closing', () => {
    for (const attempt of ATTEMPTS)
      for (const height of [0.001, 1 / 25.4, 0.1]) {
        const { opens, closes } = eventIn(attempt.sheet, height);
        const grade = gradeOf(attempt, (sheet) => ({
          ...{ ...sheet, opensDeg: opens, closesDeg: closes, widthDeg: closes - opens },
          centreDeg: (opens + closes) / 2,
        }));
        expect(named(grade).filter((one) => one === 'other-height').length).toBeGreaterThan(0);
        // Width and centre follow from what was written: charged once.
        expect(codes(grade).filter((code) => code === 'degrees-off').length).toBeLessThanOrEqual(2);
      }
  });

  it('stops a turn of the pointer that was not counted, and names it', () => {
    for (const attempt of ATTEMPTS) {
      const grade = gradeOf(attempt, (sheet) => ({
        ...sheet,
        points: sheet.points.map(({ crankDeg, lift }) => ({
          crankDeg,
          lift: lift !== null && lift > 0.1 ? lift - 0.1 : lift,
        })),
      }));
      expect(named(grade)).toContain('missed-turn');
      expect(grade.stops.map(({ code }) => code)).toContain('whole-turn-error');
    }
  });

  it('gives full points for lines within a graduation, half for two, none beyond', () => {
    for (const attempt of ATTEMPTS.slice(0, 3))
      for (const [off, points] of [
        [0.0009, 30],
        [0.0016, 22.5],
        [0.006, 15],
      ] as const) {
        const grade = gradeOf(attempt, (sheet) => ({
          ...sheet,
          // Half of the lines one way, so that the figures stay those of a table.
          points: sheet.points.map(({ crankDeg, lift }) => ({ crankDeg, lift: (lift ?? 0) + off })),
          ...shifted(sheet, off),
        }));
        expect(grade.points.reading).toBeGreaterThanOrEqual(points - 2);
        expect(grade.points.reading).toBeLessThanOrEqual(points + 7.6 * (off === 0.0009 ? 0 : 1));
      }
  });

  it('lets no strategy of "inside every time" pass, and both faults are drawn', () => {
    const seen = new Set<string>();
    for (let seed = 0; seed < 60; seed += 1) seen.add(generateBench({ kind: 'lift-curve' }, seed).truly);
    expect([...seen].sort()).toEqual(['below', 'inside', 'shifted']);
  });
});

describe('a straight line between two points of the table', () => {
  it('bends away from the curve by no more than the grade allows for, on every law and flank', () => {
    const laws: MotionLawName[] = [
      'polynomial-3-4-5',
      'cycloidal',
      'modified-sine',
      'modified-trapezoid',
      'polynomial-4-5-6-7',
    ];
    let most = 0;
    for (const name of laws)
      for (const liftMm of [4.5, 6, 7.5])
        for (const flankCrankDeg of [90, 110, 140, 220]) {
          const law = motionLaw(name);
          let x = 0;
          while (law.displacement(x) < 1 / liftMm) x += 1e-4;
          most = Math.max(most, Math.abs(law.acceleration(x)) / law.velocity(x) / flankCrankDeg);
        }
    expect(most).toBeLessThanOrEqual(0.062);
    expect(most).toBeGreaterThan(0.03);
  });
});

/** Opening and closing of a table at a height, in inches. */
function eventIn({ points }: LiftCurveSheet, height: number) {
  const first = points[0]?.crankDeg ?? 0;
  const lines = points.map(({ crankDeg, lift }) => ({
    deg: (crankDeg ?? 0) + ((crankDeg ?? 0) < first ? 720 : 0),
    lift: lift ?? 0,
  }));
  const crossings = lines.slice(1).flatMap(({ deg, lift }, index) => {
    const before = lines[index];
    if (before === undefined || before.lift > height === lift > height) return [];
    return [before.deg + ((height - before.lift) / (lift - before.lift)) * (deg - before.deg)];
  });
  return { opens: crossings[0] ?? 0, closes: crossings.at(-1) ?? 0 };
}

/** Figures of a table all of whose lines are higher by so much. */
function shifted(sheet: LiftCurveSheet, off: number) {
  const { opens, closes } = eventIn(sheet, 0.05 - off);
  return {
    ...{ opensDeg: opens, closesDeg: closes, widthDeg: closes - opens, centreDeg: (opens + closes) / 2 },
    maximumLift: (sheet.maximumLift ?? 0) + off,
  };
}
