import { describe, expect, it } from 'vitest';
import { generateCamLift } from '../../server/engine/exercises/cam-lift/generate.ts';
import { type CamLiftAction, gradeAttempt, shownLeaning } from '../../server/engine/index.ts';
import { observe } from '../support/observer.ts';
import {
  charged,
  gradeOf,
  type Hidden,
  lastSaid,
  logOf,
  plainBench,
  pointerAfter,
  stateAfter,
  stepThrough,
} from './support/bench.ts';

const square: CamLiftAction = { type: 'align', square: true };
const tighten = (part: 'arm' | 'base' | 'rod'): CamLiftAction => ({ type: 'tighten', part });
const setDown = (...more: CamLiftAction[]) => ({
  preload: [{ type: 'preload' as const, turns: 1 }, ...more],
});
const onlyFirst = { firstPress: [], second: [], secondPress: [] };
const beforeBarring = { tip: [], zero: [], clamp: [], first: [], ...onlyFirst };
const setUpCodes = (hidden: Hidden, ...more: CamLiftAction[]) => {
  const grade = gradeOf({ hidden, log: setDown(...more) });
  return grade.remarks
    .filter(({ criterion, pointsLost }) => criterion === 'setUp' && pointsLost > 0)
    .map(({ code, pointsLost }) => `${code} ${pointsLost}`);
};
/** Highest reading in graduations. */
const highOf = (hidden: Hidden, ...more: CamLiftAction[]) => {
  const bench = plainBench(hidden);
  const { steps } = stepThrough(bench, logOf(bench, { ...setDown(...more), ...onlyFirst }));
  return Math.max(...steps.slice(-12).flatMap(({ moments }) => moments.map((one) => one.graduations)));
};

describe('an indicator that leans', () => {
  it.each([
    [5, 0.0009],
    [8, 0.0023],
    [12, 0.0053],
  ])('by %i° on 0.237 in reads high by %f in (common practice, no source; geometry)', (leanDeg, highIn) => {
    expect((highOf({ rig: { leanDeg } }) - highOf({})) / 1000).toBeCloseTo(highIn, 3);
    const exact = shownLeaning(0.237, leanDeg, 'leans-on-square-face') - 0.237;
    expect((highOf({ rig: { leanDeg } }) - highOf({})) / 1000).toBeCloseTo(exact, 4);
  });

  it('with its tip in a centre hole reads low', () => {
    const low = highOf({ rig: { leanDeg: 12, tipInHole: true } }) - highOf({});
    expect(low / 1000).toBeCloseTo(shownLeaning(0.237, 12, 'tip-caught') - 0.237, 4);
  });

  it('reads right once it is set square', () => {
    expect(highOf({ rig: { leanDeg: 12 } }, square)).toBeCloseTo(highOf({}), 6);
  });

  it('is seen along the bore, to a degree, and so is a tip in a hole', () => {
    for (const leanDeg of [0.2, 6, 9, 12]) {
      const bench = plainBench({ rig: { leanDeg, tipInHole: true } });
      const log = logOf(bench, { ...setDown({ type: 'align' }), ...beforeBarring });
      const said = stepThrough(bench, log).steps.at(-1)?.said ?? [];
      expect(said.at(-1)).toEqual({ code: 'tip-in-hole' });
      const degrees = said[0]?.code === 'leans' ? said[0].degrees : 0;
      expect(Math.abs(degrees - leanDeg)).toBeLessThanOrEqual(1.1);
    }
  });

  it('is charged only where it costs a graduation', () => {
    expect(setUpCodes({ rig: { leanDeg: 4 } })).toEqual([]);
    expect(setUpCodes({ rig: { leanDeg: 7 } })).toEqual(['indicator-leans 2']);
    expect(setUpCodes({ rig: { leanDeg: 7 } }, square)).toEqual([]);
    expect(setUpCodes({ rig: { leanDeg: 7 } }, { type: 'align' })).toEqual(['indicator-leans 2']);
  });

  it('costs no points of reading: a good reading of a bad set-up is still a good reading', () => {
    expect(gradeOf({ hidden: { rig: { leanDeg: 12 } } }).points.reading).toBe(30);
  });
});

describe.each(['arm', 'base'] as const)('a loose %s', (loosePart) => {
  const rig = { loosePart, slipWay: 1 } as const;
  const seeds = Array.from({ length: 20 }, (_, seed) => seed);
  const moved = (seed: number, ...more: CamLiftAction[]) => {
    const bench = plainBench({ rig }, {}, seed);
    return pointerAfter(bench, logOf(bench, { ...setDown(...more), ...onlyFirst }));
  };

  it('gives way one way when the engine rocks, and the zero is lost', () => {
    const offs = seeds.map((seed) => moved(seed));
    expect(Math.min(...offs)).toBeGreaterThan(-0.5);
    expect(offs.filter((off) => off > 0.8).length).toBeGreaterThan(15);
  });

  it('moves pointer and small hand alike, where the bezel moves the face alone', () => {
    const bench = plainBench({ rig });
    const log = logOf(bench, { ...setDown(), ...onlyFirst });
    const start = stepThrough(bench, logOf(bench, { ...setDown(), first: [], ...onlyFirst })).steps.at(-1);
    const end = stepThrough(bench, log).steps.at(-1)?.moments.at(-1);
    const before = start?.moments.at(-1);
    const pointer = (end?.graduations ?? 0) - (before?.graduations ?? 0);
    expect(((end?.counterTurns ?? 0) - (before?.counterTurns ?? 0)) * 100).toBeCloseTo(pointer, 6);
    expect(stateAfter(bench, log).faceTurn).toBe(start?.state.faceTurn);
  });

  it('holds once it is tightened, and is felt to give', () => {
    for (const seed of seeds) expect(Math.abs(moved(seed, tighten(loosePart)))).toBeLessThan(0.5);
    const bench = plainBench({ rig });
    const said = (...more: CamLiftAction[]) =>
      lastSaid(bench, logOf(bench, { ...setDown(...more), ...beforeBarring }));
    expect(said(tighten(loosePart))).toEqual(['was-loose']);
    expect(said(tighten(loosePart), tighten(loosePart))).toEqual(['was-tight']);
    expect(said(tighten('rod'))).toEqual(['was-tight']);
  });

  it('is charged when it was left loose', () => {
    expect(setUpCodes({ rig })).toEqual(['stand-loose 3']);
    expect(setUpCodes({ rig }, tighten('rod'))).toEqual(['stand-loose 3']);
    expect(setUpCodes({ rig }, tighten(loosePart))).toEqual([]);
  });
});

describe('a loose rod', () => {
  const rig = { loosePart: 'rod', rodRocksMm: 0.1 } as const;
  const seeds = Array.from({ length: 30 }, (_, seed) => seed);
  const at = (seed: number, parts: Parameters<typeof logOf>[1]) => {
    const bench = plainBench({ rig }, {}, seed);
    return pointerAfter(bench, logOf(bench, parts));
  };

  it('scatters the return by no more than it rocks, either way', () => {
    const offs = seeds.map((seed) => at(seed, { ...setDown(), ...onlyFirst }));
    const most = (2 * 0.1) / 0.0254;
    expect(Math.max(...offs.map(Math.abs))).toBeLessThanOrEqual(most + 0.5);
    expect(Math.max(...offs)).toBeGreaterThan(1.5);
    expect(Math.min(...offs)).toBeLessThan(-1.5);
  });

  it('is found by lifting the tip: it does not come back to the same place', () => {
    const lifts = seeds.map((seed) => {
      const lift: CamLiftAction = { type: 'lift-tip' };
      const none = at(seed, { ...setDown(), tip: [], zero: [], clamp: [], first: [], ...onlyFirst });
      const three = [1, 2, 3].map((count) =>
        at(seed, {
          ...{ ...setDown({ type: 'clamp' }), tip: Array.from({ length: count }, () => lift) },
          ...{ zero: [], clamp: [], first: [], ...onlyFirst },
        }),
      );
      return Math.max(none, ...three) - Math.min(none, ...three);
    });
    expect(lifts.filter((spread) => spread > 0.5).length).toBeGreaterThan(27);
  });

  it('stands firm once it is seated, and is charged when it was not', () => {
    for (const seed of seeds)
      expect(Math.abs(at(seed, { ...setDown(tighten('rod')), ...onlyFirst }))).toBeLessThan(0.5);
    expect(setUpCodes({ rig })).toEqual(['rod-loose 3']);
    expect(setUpCodes({ rig }, tighten('rod'))).toEqual([]);
  });

  it('never makes the pointer jump', () => {
    const bench = plainBench({ rig: { ...rig, rodRocksMm: 0.127 } });
    const { steps } = stepThrough(bench, logOf(bench, { ...setDown(), firstPress: [], secondPress: [] }));
    const moments = steps.slice(-24).flatMap((step) => step.moments);
    for (let n = 1; n < moments.length; n += 1)
      expect(Math.abs((moments[n]?.graduations ?? 0) - (moments[n - 1]?.graduations ?? 0))).toBeLessThan(6);
  });
});

describe('how often a set-up goes wrong', () => {
  const benches = Array.from({ length: 1000 }, (_, seed) =>
    generateCamLift({ kind: 'cam-lift' }, `rig-${seed}`),
  );
  const faults = benches.map(({ rigs }) => rigs.filter((rig) => rig.loosePart !== null || rig.leanDeg > 2.5));

  it('is three engines in ten, one fault each, at a position that is measured', () => {
    const faulty = faults.filter((found) => found.length > 0).length;
    // Four standard deviations of a binomial count.
    expect(Math.abs(faulty - 300)).toBeLessThan(4 * Math.sqrt(1000 * 0.3 * 0.7));
    expect(Math.max(...faults.map((found) => found.length))).toBe(1);
    benches.forEach(({ rigs, positions }) => {
      rigs.forEach((rig, index) => {
        if (rig.loosePart !== null || rig.leanDeg > 2.5) expect(positions).toContain(index + 1);
      });
    });
    expect(Math.max(...faults.flat().map(({ leanDeg }) => leanDeg))).toBeLessThanOrEqual(12);
  });

  it('is never where the sheet rules it out, and nothing else of the engine changes with that', () => {
    for (let seed = 0; seed < 30; seed += 1) {
      const without = generateCamLift({ kind: 'cam-lift', setUpFaults: false }, seed);
      expect(without.rigs.every(({ leanDeg, loosePart }) => leanDeg === 0 && loosePart === null)).toBe(true);
      expect({ ...without, rigs: [] }).toEqual({ ...generateCamLift({ kind: 'cam-lift' }, seed), rigs: [] });
    }
  });
});

describe('a student who neither looks along the bore nor tightens', () => {
  it('is charged for exactly the faults that are there and cost something', () => {
    let found = 0;
    for (let seed = 0; seed < 40; seed += 1) {
      const { bench, actions, sheet } = observe({ kind: 'cam-lift' }, seed, {
        leavesOut: ['align', 'tighten'],
      });
      const codes = charged(gradeAttempt(bench, actions, sheet));
      const rigCodes = codes.filter((code) => ['indicator-leans', 'stand-loose', 'rod-loose'].includes(code));
      const rigs = bench.positions.flatMap((position) => bench.rigs[position - 1] ?? []);
      const there = rigs.flatMap(({ leanDeg, loosePart }) =>
        leanDeg > 6
          ? ['indicator-leans']
          : loosePart === null
            ? []
            : [loosePart === 'rod' ? 'rod-loose' : 'stand-loose'],
      );
      expect({ seed, rigCodes }).toEqual({ seed, rigCodes: there });
      found += there.length;
    }
    expect(found).toBeGreaterThan(6);
  });
});
