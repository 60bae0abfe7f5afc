import { describe, expect, it, vi } from 'vitest';
import {
  act,
  brief,
  type DefinitionOf,
  displacementMm,
  type Grade,
  generateBench,
  gradeAttempt,
  lookAt,
  noseDeg,
  rockerRatio,
  shownLeaning,
  startBench,
  valveLift,
} from '../../server/engine/index.ts';
import { observeValves, type ValveHabits } from '../support/valve-observer.ts';

// Each log bars two valves round twice, a degree at a time.
vi.setConfig({ testTimeout: 30_000 });

type Definition = DefinitionOf<'valve-lift'>;
const KIND: Definition = { kind: 'valve-lift' };
const HYDRAULIC: Definition = { kind: 'valve-lift', level: 3, tappets: 'hydraulic' };
const SEEDS = Array.from({ length: 16 }, (_, seed) => seed);

function graded(seed: number, habits: ValveHabits = {}, definition = KIND): Grade {
  const { bench, actions, sheet } = observeValves(definition, seed, habits);
  return gradeAttempt(bench, actions, sheet);
}
const charged = ({ remarks }: Grade) =>
  remarks.filter(({ pointsLost }) => pointsLost > 0).map(({ code }) => code);

describe('a valve train', () => {
  it('lifts the valve by ratio times lobe less lash, and never below its seat', () => {
    // 0.310 in and 0.270 in with a 1.6 rocker: worked examples on a page about valve lift, 0.496 in and 0.432 in.
    expect(valveLift(0.31, 1.6, 0)).toBeCloseTo(0.496, 12);
    expect(valveLift(0.27, 1.6, 0)).toBeCloseTo(0.432, 12);
    expect(valveLift(0.005, 1.5, 0.012)).toBe(0);
    expect(rockerRatio(0.46, 0.02, 0.32)).toBeCloseTo(1.5, 12);
    expect(() => rockerRatio(0.4, 0.01, 0)).toThrow(RangeError);
  });

  it('opens the exhaust valve before the top dead centre of overlap and the intake valve after it', () => {
    // TM 9-8000: the power stroke ends some 40° before bottom; both valves are open about the top dead centre 360° after firing.
    for (const cylinder of [1, 2, 3, 4, 5, 6]) {
      const order = [1, 5, 3, 6, 2, 4];
      const firing = 120 * order.indexOf(cylinder);
      const exhaust = noseDeg(order, { cylinder, valve: 'exhaust' }) - firing;
      const intake = noseDeg(order, { cylinder, valve: 'intake' }) - firing;
      expect(exhaust).toBeGreaterThan(180);
      expect(exhaust).toBeLessThan(360);
      expect(intake).toBeGreaterThan(360);
      expect(intake).toBeLessThan(540);
    }
    const { valves } = generateBench({ kind: 'valve-lift', valves: 6 }, 1);
    for (const { lobe, cylinder, valve } of valves) {
      const at = (crankDeg: number) => displacementMm(lobe, (crankDeg - lobe.noseCrankDeg) / 2);
      const firing = 120 * [1, 5, 3, 6, 2, 4].indexOf(cylinder);
      expect({ cylinder, valve, closed: at(firing) }).toEqual({ cylinder, valve, closed: 0 });
      expect(at(firing + 360)).toBeGreaterThan(0);
    }
  });

  it('moves pushrod up, retainer and rocker down, each by its own length', () => {
    for (const seed of SEEDS) {
      const { bench, sheet } = observeValves(KIND, seed);
      for (const [index, { lobe, ratio, lashMm }] of bench.valves.entries()) {
        const lobeMm = Math.max(
          ...Array.from({ length: 1200 }, (_, at) => displacementMm(lobe, at / 20 - 30)),
        );
        const written = sheet.valves[index];
        const off = (length: number | null | undefined, trulyMm: number) =>
          Math.abs((length ?? 0) - trulyMm / 25.4);
        expect(off(written?.lobeLift, lobeMm)).toBeLessThan(0.001);
        expect(off(written?.valveLift, ratio * lobeMm - lashMm)).toBeLessThan(0.001);
        expect(off(written?.lash, lashMm)).toBeLessThan(0.001);
        expect(Math.abs((written?.ratio ?? 0) - ratio)).toBeLessThan(0.011);
      }
    }
  });

  it('is shown too low by a lean in a pushrod’s cup and too high by one on a retainer', () => {
    const lifts = (at: 'pushrod' | 'retainer', align: boolean) => {
      const bench = generateBench(
        { kind: 'valve-lift', level: 1, valves: [{ cylinder: 1, valve: 'intake' }] },
        7,
      );
      let state = startBench(bench);
      const does = (action: Parameters<typeof act<'valve-lift'>>[2]) => {
        const done = act(bench, state, action);
        state = done.state;
        return done.seen.samples.map(({ pointer }) => pointer);
      };
      does({ type: 'bar', degrees: 720 - lookAt(bench, state).crankDeg });
      does({ type: 'move', cylinder: 1, valve: 'intake', at });
      does({ type: 'set-indicator', turns: 6 });
      if (align) does({ type: 'align' });
      does({ type: 'zero' });
      does({ type: 'clamp' });
      const pointers = does({ type: 'bar', degrees: 470 });
      const steps = pointers.slice(1).map((pointer, index) => {
        const step = pointer - (pointers[index] ?? 0);
        return step - 100 * Math.round(step / 100);
      });
      return { lift: Math.abs(steps.reduce((sum, step) => sum + step, 0)), lean: state.stand?.leanDeg ?? 0 };
    };
    for (const [at, misalignment] of [
      ['pushrod', 'tip-caught'],
      ['retainer', 'leans-on-square-face'],
    ] as const) {
      const [straight, leaning] = [lifts(at, true), lifts(at, false)];
      expect(straight.lean).toBe(0);
      expect(leaning.lean).toBeGreaterThan(15);
      expect(leaning.lift).toBeCloseTo(shownLeaning(straight.lift, leaning.lean, misalignment), 0);
      expect(Math.sign(leaning.lift - straight.lift)).toBe(at === 'pushrod' ? -1 : 1);
    }
  });
});

describe('one step done badly brings its own remark, on every bench', () => {
  it.each<[string, ValveHabits, string]>([
    ['base not wiped', { leavesOut: ['wipe'] }, 'base-not-wiped'],
    ['not lined up', { leavesOut: ['align'] }, 'not-lined-up'],
    ['tip not tried', { leavesOut: ['tip'] }, 'tip-not-tried'],
    ['bezel left free', { leavesOut: ['clamp'] }, 'bezel-left-free'],
    ['too little preload for a valve that goes away', { retainerTurns: 1 }, 'tip-left'],
    ['zeroed on a lobe', { zeroAtDeg: 360 }, 'zero-off-the-base-circle'],
    ['barred short of the nose', { barsDeg: 200 }, 'nose-not-passed'],
    ['not back on the base circle', { barsDeg: 470 }, 'base-not-seen-again'],
    ['lash left out', { leavesOut: ['lash'] }, 'lash-not-measured'],
    ['rocked one way only', { rocksDownOnly: true }, 'rocked-one-way'],
  ])('%s', (_, habits, code) => {
    for (const seed of SEEDS.slice(0, 5)) {
      expect({ seed, codes: charged(graded(seed, habits)) }).toEqual({
        seed,
        codes: expect.arrayContaining([code]),
      });
      expect(charged(graded(seed))).not.toContain(code);
    }
  });
});

describe('what is hidden in a valve train', () => {
  it('is a worn lobe, a wrong rocker or a large lash: each shows in its own box and is judged', () => {
    const faults = new Set<string>();
    for (const seed of SEEDS) {
      const { bench, sheet } = observeValves({ kind: 'valve-lift', valves: 2 }, seed);
      const { specification } = brief(bench);
      for (const [index, { fault, truly, valve }] of bench.valves.entries()) {
        const written = sheet.valves[index];
        expect(written?.verdict).toBe(truly);
        faults.add(fault);
        const { lower, upper, lash } = specification[valve];
        const lobe = ((lower + upper) / 2 + lash) / specification.ratio;
        // What is as it should be lies near it, and what is at fault far off: 0.006 in of lobe, 0.02 of ratio, 0.006 in of lash.
        const off = {
          'worn-lobe': lobe - (written?.lobeLift ?? 0) > 0.006,
          'wrong-rocker': Math.abs((written?.ratio ?? 0) - specification.ratio) > 0.02,
          'large-lash': (written?.lash ?? 0) - lash > 0.006,
        };
        if (fault !== 'none') expect({ seed, fault, off: off[fault] }).toEqual({ seed, fault, off: true });
        if (fault !== 'wrong-rocker')
          expect({ seed, off: off['wrong-rocker'] }).toEqual({ seed, off: false });
        if (fault !== 'large-lash') expect({ seed, off: off['large-lash'] }).toEqual({ seed, off: false });
      }
    }
    expect(faults).toEqual(new Set(['none', 'worn-lobe', 'wrong-rocker', 'large-lash']));
  });

  it('is at level 3 a hydraulic tappet that has bled down: soft under the hand, and the valve reads low', () => {
    let bled = 0;
    for (const seed of SEEDS) {
      const { bench } = observeValves(HYDRAULIC, seed);
      const soft = bench.valves.filter(({ bledMm }) => bledMm > 0).length;
      bled += soft;
      const careless = observeValves(HYDRAULIC, seed, { leavesOut: ['feel'] });
      const codes = charged(gradeAttempt(careless.bench, careless.actions, careless.sheet));
      expect(codes.filter((code) => code === 'tappet-bled-down')).toHaveLength(soft);
      for (const [index, { bledMm, ratio, lobe }] of careless.bench.valves.entries()) {
        const short =
          (ratio * (lobe.liftMm - lobe.condition.wearMm)) / 25.4 -
          (careless.sheet.valves[index]?.valveLift ?? 0);
        expect(Math.abs(short - bledMm / 25.4)).toBeLessThan(0.0015);
      }
    }
    expect(bled).toBeGreaterThan(8);
    expect(bled).toBeLessThan(24);
  });

  it('never leaves the engine before it is graded', () => {
    for (const definition of [KIND, HYDRAULIC]) {
      const { bench, actions } = observeValves(definition, 3);
      const told = [JSON.stringify(brief(bench))];
      let state = startBench(bench);
      for (const action of actions) {
        const done = act(bench, state, action);
        state = done.state;
        told.push(JSON.stringify(done.seen.now));
      }
      for (const hidden of ['lashMm', 'bledMm', 'fault', 'truly', 'lobe', 'noseMm', 'leanDeg'])
        expect(told.some((text) => text.includes(`"${hidden}"`))).toBe(false);
    }
  });
});

describe('judging a valve', () => {
  it('lets no blind strategy pass', () => {
    for (const verdict of ['inside', 'below', 'above'] as const) {
      const passes = SEEDS.filter((seed) => {
        const { bench, actions, sheet } = observeValves(KIND, seed);
        const next = verdict === 'inside' ? 'return-to-service' : 'measure-again';
        const valves = sheet.valves.map((one) => ({ ...one, verdict, next }) as const);
        const grade = gradeAttempt(bench, actions, { valves });
        return grade.stops.length === 0 && grade.points.verdict === 20;
      });
      expect(passes.length / SEEDS.length).toBeLessThan(0.6);
    }
  });

  it('tells of a lobe’s lift held against the valve’s limits, and charges the wrong verdict once', () => {
    for (const seed of SEEDS) {
      const { bench, actions, sheet } = observeValves({ kind: 'valve-lift', level: 1 }, seed);
      const valves = sheet.valves.map(
        (one) => ({ ...one, verdict: 'below', next: 'measure-again' }) as const,
      );
      const grade = gradeAttempt(bench, actions, { valves });
      const codes = grade.remarks.map(({ code }) => code);
      expect(codes.filter((code) => code === 'lobe-against-valve-limits')).toHaveLength(valves.length);
      expect(new Set(charged(grade))).toEqual(new Set(['verdict-not-from-result']));
    }
  });

  it('condemns only what two set-ups showed', () => {
    let bad = 0;
    for (const seed of SEEDS) {
      const replaced = (habits: ValveHabits) => {
        const { bench, actions, sheet } = observeValves(KIND, seed, habits);
        const valves = sheet.valves.map((one) =>
          one.verdict === 'inside' ? one : ({ ...one, next: 'replace' } as const),
        );
        bad += valves.some(({ next }) => next === 'replace') ? 1 : 0;
        return new Set(charged(gradeAttempt(bench, actions, { valves })));
      };
      const isBad = generateBench(KIND, seed).valves.some(({ truly }) => truly !== 'inside');
      expect(replaced({})).toEqual(new Set(isBad ? ['condemned-on-one-setting'] : []));
      expect(replaced({ twice: true })).toEqual(new Set());
    }
    expect(bad).toBeGreaterThan(6);
  });
});

describe('a definition that cannot be built', () => {
  it.each<[string, Definition]>([
    ['a gauge too short', { kind: 'valve-lift', dial: 'inch-0.0005-0.5' }],
    [
      'a valve of another engine',
      { kind: 'valve-lift', cylinders: 4, valves: [{ cylinder: 6, valve: 'intake' }] },
    ],
    ['a firing order with a cylinder twice', { kind: 'valve-lift', firingOrder: [1, 3, 3, 2] }],
    ['more cylinders than there are', { kind: 'valve-lift', cylinders: 4, valves: 5 }],
  ])('is refused: %s', (_, definition) => {
    expect(() => generateBench(definition, 1)).toThrow(RangeError);
  });
});
