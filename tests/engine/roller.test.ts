import { describe, expect, it } from 'vitest';
import { generateCamLift } from '../../server/engine/exercises/cam-lift/generate.ts';
import { camSurfaceMm } from '../../server/engine/exercises/cam-lift/perceive.ts';
import { brief, gradeAttempt, type RollerVerdict } from '../../server/engine/index.ts';
import { observe } from '../support/observer.ts';
import { charged, gradeOf, lastSaid, logOf, plainBench, stepThrough } from './support/bench.ts';

const judged = { rollerVerdict: true } as const;
const move = { type: 'move', position: 3 } as const;
const look = { seat: [move, { type: 'inspect' as const }, { type: 'seat' as const }] };
const writes = (roller: RollerVerdict | null) => ({
  line: (right: object) => ({ ...right, roller }) as never,
});

describe('a roller that is looked at', () => {
  it.each([
    ['sound', ['roller-bright', 'roller-smooth', 'roller-round']],
    ['blued', ['roller-blue', 'roller-smooth', 'roller-round']],
    ['pitted', ['roller-bright', 'roller-pits', 'roller-round']],
    ['scored', ['roller-bright', 'roller-scores', 'roller-round']],
    ['flat', ['roller-bright', 'roller-smooth', 'roller-uneven']],
  ] as const)('%s, shows it', (condition, said) => {
    expect(lastSaid(plainBench({ roller: { condition, flatMm: 0 } }), [move, { type: 'inspect' }])).toEqual(
      said,
    );
  });

  it('cannot be seen once the tappet is in, or with no position chosen', () => {
    const why = (actions: Parameters<typeof stepThrough>[1]) =>
      stepThrough(plainBench(), actions).steps.at(-1)?.said;
    expect(why([move, { type: 'seat' }, { type: 'inspect' }])).toEqual([
      { code: 'cannot', why: 'tappet-is-in' },
    ]);
    expect(why([{ type: 'inspect' }])).toEqual([{ code: 'cannot', why: 'choose-a-position' }]);
    expect(lastSaid(plainBench(), [move, { type: 'seat' }, move, { type: 'inspect' }])).toContain(
      'roller-bright',
    );
  });
});

describe('the verdict on a roller', () => {
  const pitted = { roller: { condition: 'pitted', flatMm: 0 } } as const;
  const graded = (hidden: object, log: object, roller: RollerVerdict | null) => {
    const grade = gradeOf({ hidden, definition: judged, log, ...writes(roller) });
    return { points: grade.points.verdict, codes: charged(grade) };
  };

  it('counts in full when it is right and was found by looking', () => {
    expect(graded({}, look, 'sound')).toEqual({ points: 20, codes: [] });
    expect(graded(pitted, look, 'not-again')).toEqual({ points: 20, codes: [] });
  });

  it('counts by half when nobody looked', () => {
    expect(graded(pitted, {}, 'not-again')).toEqual({ points: 18, codes: ['roller-not-looked-at'] });
  });

  it('counts for nothing when it is wrong or missing', () => {
    expect(graded(pitted, look, 'sound')).toEqual({ points: 16, codes: ['roller-passed'] });
    expect(graded({}, look, 'not-again')).toEqual({ points: 16, codes: ['roller-condemned'] });
    expect(graded({}, look, null)).toEqual({ points: 16, codes: ['roller-not-written'] });
  });

  it('is neither asked for nor charged where the sheet has no line for it', () => {
    expect(gradeOf().total).toBe(100);
    const bench = generateCamLift({ kind: 'cam-lift' }, 1);
    expect(Object.keys(brief(bench))).not.toContain('rollerVerdict');
    expect(bench.rollers.every(({ condition }) => condition === 'sound')).toBe(true);
  });
});

describe('a flat on the roller', () => {
  const deepMm = 0.0762;
  const bench = plainBench({ roller: { condition: 'flat', flatMm: deepMm } });
  const plain = plainBench();
  const lowBy = (crankDeg: number) => camSurfaceMm(plain, 3, crankDeg) - camSurfaceMm(bench, 3, crankDeg);

  it('lets the roller down by its depth at most, elsewhere on each pass, and never on nose or base circle', () => {
    const nose = bench.lobes[2]?.lobe.noseCrankDeg ?? 0;
    const places = [0, 1, 2, 3, 4, 5].map((pass) => {
      const around = Array.from({ length: 720 }, (_, deg) => deg - 360);
      const lows = around.map((deg) => lowBy(nose + 720 * pass + deg));
      expect(Math.max(...lows)).toBeLessThanOrEqual(deepMm + 1e-9);
      expect(Math.max(...lows)).toBeGreaterThan(0.9 * deepMm);
      expect(lowBy(nose + 720 * pass)).toBe(0);
      expect(lowBy(nose + 720 * pass + 360)).toBe(0);
      return around[lows.indexOf(Math.max(...lows))];
    });
    expect(new Set(places).size).toBeGreaterThan(3);
  });

  it('leaves the highest reading alone', () => {
    const highOf = (of: typeof bench) =>
      Math.max(
        ...stepThrough(of, logOf(of))
          .steps.slice(-26)
          .flatMap(({ moments }) => moments.map((one) => one.graduations)),
      );
    expect(highOf(bench)).toBeCloseTo(highOf(plain), 6);
  });
});

describe('rollers of engines whose sheet asks for them', () => {
  const benches = Array.from({ length: 500 }, (_, seed) =>
    generateCamLift({ kind: 'cam-lift', ...judged }, seed),
  );

  it('are bad in one of four, every kind of it, and nothing else of the engine changes', () => {
    const all = benches.flatMap(({ rollers }) => rollers);
    const bad = all.filter(({ condition }) => condition !== 'sound');
    // Four standard deviations of a binomial count.
    expect(Math.abs(bad.length - all.length / 4)).toBeLessThan(4 * Math.sqrt(all.length * 0.25 * 0.75));
    expect(new Set(bad.map(({ condition }) => condition)).size).toBe(4);
    for (const [seed, bench] of benches.slice(0, 20).entries()) {
      const without = generateCamLift({ kind: 'cam-lift' }, seed);
      expect({ ...bench, rollerVerdict: false, rollers: without.rollers }).toEqual(without);
    }
  });

  it('cost a careful student nothing', () => {
    for (let seed = 0; seed < 12; seed += 1) {
      const { bench, actions, sheet } = observe({ kind: 'cam-lift', ...judged }, seed);
      expect({ seed, total: gradeAttempt(bench, actions, sheet).total }).toEqual({ seed, total: 100 });
    }
  });
});
