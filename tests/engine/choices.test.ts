import { describe, expect, it } from 'vitest';
import {
  act,
  brief,
  type CamLiftAction,
  type CamLiftDefinition,
  convertLength,
  generateBench,
  gradeAttempt,
  graduationsPerTurn,
  judge,
  startBench,
} from '../../server/engine/index.ts';
import { type Habits, observe } from '../support/observer.ts';

const seeds = (count: number) => Array.from({ length: count }, (_, seed) => seed);

function graded(definition: CamLiftDefinition, seed: number, habits: Habits = {}) {
  const attempt = observe(definition, seed, habits);
  const regrade = (actions = attempt.actions, sheet = attempt.sheet) =>
    gradeAttempt(attempt.bench, actions, sheet);
  return { ...attempt, regrade, codes: (grade = regrade()) => grade.remarks.map(({ code }) => code) };
}

function doing(definition: CamLiftDefinition, seed: number, actions: readonly CamLiftAction[]) {
  const bench = generateBench(definition, seed);
  let state = startBench(bench);
  const said = actions.flatMap((action) => {
    const step = act(bench, state, action);
    state = step.state;
    return step.seen.said;
  });
  return { bench, said, state };
}

describe('a gauge from the tray', () => {
  const definition: CamLiftDefinition = { kind: 'cam-lift', chooseGauge: true };

  it('is not the only one, and not every one fits', () => {
    for (const seed of seeds(40)) {
      const plate = brief(generateBench(definition, seed));
      const needed = convertLength(plate.specification?.nominal ?? 0, 'in', 'in') + 0.05;
      const fits = plate.tray?.map(
        ({ dial }) =>
          convertLength(dial.travel, dial.unit, 'in') >= needed &&
          convertLength(dial.graduation, dial.unit, 'mm') >= 0.005,
      );
      expect(fits).toHaveLength(4);
      expect(fits).toContain(true);
      expect(fits).toContain(false);
    }
  });

  it('must be in hand before the indicator is set down', () => {
    const { said } = doing(definition, 1, [
      { type: 'move', position: 1 },
      { type: 'seat' },
      { type: 'seat' },
      { type: 'preload', turns: 0.5 },
    ]);
    expect(said.at(-1)).toEqual({ code: 'cannot', why: 'choose-a-gauge' });
  });

  it('turns its own pointer: a turn of the dial taken is a turn of what is seen', () => {
    for (const seed of seeds(20)) {
      const { tray = [] } = brief(generateBench(definition, seed));
      for (const { dialName, dial } of tray) {
        const { bench, said, state } = doing(definition, seed, [
          { type: 'choose-gauge', gauge: dialName },
          { type: 'move', position: 1 },
          { type: 'seat' },
          { type: 'preload', turns: 1 },
        ]);
        expect(said).toContainEqual({ code: 'gauge-in-hand', gauge: dialName });
        const { samples } = act(bench, state, { type: 'preload', turns: 2 }).seen;
        const pointers = samples.map(({ pointer }) => pointer);
        expect(Math.max(...pointers)).toBeLessThan(graduationsPerTurn(dial));
        expect(Math.max(...pointers)).toBeGreaterThan(0.7 * graduationsPerTurn(dial));
      }
    }
  });

  it('too short for the lift is charged once, as that', () => {
    let found = 0;
    for (const seed of seeds(30)) {
      const bench = generateBench(definition, seed);
      const { specification, tray = [] } = brief(bench);
      const short = tray.find(
        ({ dial }) =>
          dial.graduation === 0.001 &&
          dial.unit === 'in' &&
          dial.travel < (specification?.nominal ?? 0) + 0.05,
      );
      if (short === undefined) continue;
      found += 1;
      const attempt = graded(definition, seed);
      const actions = attempt.actions.map((action) =>
        action.type === 'choose-gauge' ? { ...action, gauge: short.dialName } : action,
      );
      const codes = attempt.codes(attempt.regrade(actions, { ...attempt.sheet, gauge: short.dialName }));
      expect(codes).toContain('gauge-too-short');
      expect(codes).not.toContain('travel-ran-out');
      expect(codes).not.toContain('gauge-not-on-sheet');
    }
    expect(found).toBeGreaterThan(2);
  });

  it('that is not on the sheet costs two points, one that was never taken four', () => {
    const attempt = graded(definition, 3);
    const full = attempt.regrade();
    const silent = attempt.regrade(attempt.actions, { ...attempt.sheet, gauge: null });
    expect(full.total - silent.total).toBeCloseTo(2, 6);
    expect(attempt.codes(silent)).toContain('gauge-not-on-sheet');
    const without = attempt.regrade(
      attempt.actions.filter(({ type }) => type !== 'choose-gauge'),
      attempt.sheet,
    );
    expect(attempt.codes(without)).toContain('gauge-not-chosen');
  });

  it('changed for another begins afresh: what the first one showed is no reading of the second', () => {
    const attempt = graded(definition, 3);
    const own = attempt.sheet.gauge;
    const other = attempt.plate.tray?.find(({ dialName }) => dialName !== own)?.dialName;
    if (other === undefined || own === null || own === undefined) throw new Error('One gauge only.');
    const [first, ...rest] = attempt.actions;
    const again = [
      ...attempt.actions,
      { type: 'choose-gauge', gauge: other } as const,
      { type: 'move', position: attempt.plate.positions[0] ?? 1 } as const,
      { type: 'seat' } as const,
      { type: 'seat' } as const,
      { type: 'preload', turns: 0.5 } as const,
    ];
    expect(first).toBeDefined();
    expect(rest.length).toBeGreaterThan(10);
    const grade = attempt.regrade(again, { ...attempt.sheet, gauge: other });
    expect(grade.points.reading).toBe(0);
  });
});

describe('a rod', () => {
  const definition: CamLiftDefinition = { kind: 'cam-lift', chooseRod: true, setUpFaults: false };

  it('that rocks in the tappet is loose however firmly it is seated, and is charged', () => {
    for (const seed of seeds(8)) {
      const bench = generateBench(definition, seed);
      const loose = bench.rods.findIndex(({ rocksMm }) => rocksMm > 0) + 1;
      const attempt = graded(definition, seed);
      const actions = attempt.actions.map((action) =>
        action.type === 'choose-rod' ? { ...action, rod: loose } : action,
      );
      const { said } = doing(definition, seed, actions);
      expect(said).toContainEqual({ code: 'rod-in-hand', fit: 'rocks', end: 'flat' });
      expect(said).toContainEqual({ code: 'still-rocks' });
      expect(attempt.codes(attempt.regrade(actions))).toContain('rod-loose');
    }
  });

  it('with a centre hole catches the tip', () => {
    const bench = generateBench(definition, 5);
    const holed = bench.rods.findIndex(({ end }) => end === 'centre-hole') + 1;
    const { said } = doing(definition, 5, [
      { type: 'choose-rod', rod: holed },
      { type: 'move', position: 1 },
      { type: 'seat' },
      { type: 'seat' },
      { type: 'preload', turns: 0.5 },
      { type: 'align' },
    ]);
    expect(said).toContainEqual({ code: 'tip-in-hole' });
  });
});

describe('a specification that must be looked up', () => {
  const definition: CamLiftDefinition = { kind: 'cam-lift', lookUp: true };

  it('is not on the plate, and is the row of the letter on the camshaft', () => {
    for (const seed of seeds(20)) {
      const bench = generateBench(definition, seed);
      const plate = brief(bench);
      expect(plate.specification).toBeNull();
      expect(JSON.stringify(plate)).not.toContain(String(bench.specification.nominal));
      const { said } = doing(definition, seed, [{ type: 'look-up', letter: plate.page?.letter ?? '' }]);
      expect(said).toEqual([{ code: 'specification', letter: plate.page?.letter, ...bench.specification }]);
      const rows = bench.page?.rows.map(({ specification }) => specification.nominal) ?? [];
      expect(new Set(rows).size).toBe(rows.length);
    }
  });

  it('not looked up leaves a right verdict a guess', () => {
    const attempt = graded(definition, 2);
    const blind = attempt.regrade(attempt.actions.filter(({ type }) => type !== 'look-up'));
    expect(attempt.codes(blind)).toContain('specification-not-looked-up');
    expect(attempt.regrade().points.verdict - blind.points.verdict).toBeCloseTo(6, 6);
  });

  it('of another row is told by the verdict it leads to', () => {
    let told = 0;
    for (const seed of seeds(20)) {
      const attempt = graded(definition, seed);
      const other = attempt.bench.page?.rows.find(({ letter }) => letter !== attempt.plate.page?.letter);
      if (other === undefined) continue;
      const actions = attempt.actions.map((action) =>
        action.type === 'look-up' ? { ...action, letter: other.letter } : action,
      );
      const lobes = attempt.sheet.lobes.map((lobe) => ({
        ...lobe,
        verdict: judge(lobe.lift ?? 0, null, other.specification).verdict,
      }));
      const grade = attempt.regrade(actions, { lobes });
      const wrong = lobes.filter(({ verdict }, index) => verdict !== attempt.sheet.lobes[index]?.verdict);
      const stopped = grade.stops.length > 0;
      if (stopped || wrong.length === 0) continue;
      told += 1;
      expect(grade.remarks.filter(({ code }) => code === 'specification-row-wrong')).toHaveLength(
        wrong.length,
      );
    }
    expect(told).toBeGreaterThan(5);
  });
});

describe('the tally', () => {
  it('counts strokes, and begins afresh with a zero', () => {
    const { said, bench, state } = doing({ kind: 'cam-lift', tappetFaults: false }, 1, [
      { type: 'tally' },
      { type: 'tally' },
      { type: 'move', position: 1 },
      { type: 'seat' },
      { type: 'preload', turns: 0.5 },
      { type: 'zero' },
      { type: 'tally' },
    ]);
    expect(said.flatMap((one) => (one.code === 'tallied' ? [one.count] : []))).toEqual([1, 2, 1]);
    expect(act(bench, state, { type: 'bar', degrees: 1 }).seen.now.tally).toBe(1);
  });
});

describe('verdicts with a guard band', () => {
  const close: CamLiftDefinition = { kind: 'cam-lift', decision: 'guarded', closeCalls: true };

  it('have an uncertainty of a graduation to two on an inch dial, and a k near 2', () => {
    const { decision } = brief(generateBench(close, 1));
    if (decision?.rule !== 'guarded') throw new Error('Not guarded.');
    expect(decision.expanded).toBeGreaterThan(0.001);
    expect(decision.expanded).toBeLessThan(0.0025);
    expect(decision.k).toBeCloseTo(1.96, 1);
  });

  it('say too close to call where the lift lies within U of a limit, and measuring again follows', () => {
    let called = 0;
    for (const seed of seeds(60)) {
      const attempt = graded(close, seed);
      const grade = attempt.regrade();
      expect(grade.points.verdict).toBe(20);
      const index = attempt.sheet.lobes.findIndex(({ verdict }) => verdict === 'too-close-to-call');
      if (index < 0) continue;
      called += 1;
      const change = (next: 'return-to-service' | 'replace') =>
        attempt.sheet.lobes.map((lobe, at) => (at === index ? { ...lobe, next } : lobe));
      for (const next of ['return-to-service', 'replace'] as const) {
        const codes = attempt.codes(attempt.regrade(attempt.actions, { lobes: change(next) }));
        expect(codes).toContain('next-when-too-close');
      }
    }
    expect(called).toBeGreaterThan(5);
  });

  it('keep clear of the band where close calls are not wanted', () => {
    for (const seed of seeds(40)) {
      const { bench, sheet } = observe({ kind: 'cam-lift', decision: 'guarded' }, seed);
      const measured = sheet.lobes.filter(
        ({ position }) => bench.lobes[position - 1]?.tappet.fault === 'free',
      );
      for (const { verdict } of measured) expect(verdict).not.toBe('too-close-to-call');
    }
  });
});

describe('levels', () => {
  it('hide more as they rise: turns of the pointer, faults, faces', () => {
    const at = (level: 1 | 2 | 3) =>
      seeds(60).map((seed) => generateBench({ kind: 'cam-lift', level }, seed));
    const turns = (level: 1 | 2 | 3) =>
      at(level).map(({ specification, dial }) => Math.floor(specification.nominal / dial.rangePerTurn));
    expect(new Set(turns(1))).toEqual(new Set([1]));
    expect(new Set(turns(2))).toEqual(new Set([2]));
    expect(new Set(turns(3))).toEqual(new Set([3]));
    const faulty = (level: 1 | 2 | 3) =>
      at(level).filter(
        ({ lobes, rigs }) =>
          lobes.some(({ tappet }) => tappet.fault !== 'free') ||
          rigs.some(({ leanDeg, loosePart }) => leanDeg > 3 || loosePart !== null),
      ).length;
    expect(faulty(1)).toBe(0);
    expect(faulty(2)).toBeGreaterThan(20);
    expect(faulty(3)).toBeGreaterThan(faulty(2));
    expect(at(2).every(({ dial }) => dial.face === 'continuous' && dial.counter === 'forwards')).toBe(true);
    expect(at(3).some(({ dial }) => dial.face === 'balanced')).toBe(true);
    expect(at(3).some(({ dial }) => dial.counter === 'backwards')).toBe(true);
  });

  it('are 1, 2 or 3', () => {
    expect(() => generateBench({ kind: 'cam-lift', level: 4 as never }, 1)).toThrow(RangeError);
  });
});
