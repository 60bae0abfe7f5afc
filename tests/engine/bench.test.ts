import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CamLiftBench, trueLiftMm } from '../../server/engine/exercises/cam-lift/bench.ts';
import { generateCamLift } from '../../server/engine/exercises/cam-lift/generate.ts';
import {
  type CamLiftDefinition,
  FIRING_ORDERS,
  firingTdcDeg,
  fromMm,
  generateBench,
} from '../../server/engine/index.ts';
import { displacementMm, extremes } from '../../server/engine/lobe/lift-curve.ts';
import { chanceFor } from '../../server/engine/random.ts';
import { anyDefinition, anySeed } from '../support/arbitraries/cam-lift.ts';
import { LAW } from '../support/arbitraries/settings.ts';

const BENCHES = 2000;
const benchesOf = (count: number, definition: Omit<CamLiftDefinition, 'kind'> = {}) =>
  Array.from({ length: count }, (_, seed) =>
    generateCamLift({ kind: 'cam-lift', ...definition }, `share-${seed}`),
  );
const usual = benchesOf(BENCHES);
const measured = (bench: CamLiftBench) => bench.positions.map((position) => bench.lobes[position - 1]);
const badOnes = (bench: CamLiftBench) => measured(bench).filter((truth) => truth?.state !== 'sound').length;

/** Four standard deviations of a binomial count: a true share is outside about once in 16,000 tries, and the seeds are fixed. */
function expectShare(count: number, of: number, share: number) {
  const deviation = Math.sqrt(of * share * (1 - share));
  expect(Math.abs(count - of * share)).toBeLessThan(4 * deviation);
}

describe('how often engines hold a bad lobe', () => {
  it.each([
    [0, 0.35],
    [1, 0.45],
    [2, 0.2],
  ])('%i bad lobes in a share of %f', (bad, share) => {
    expectShare(usual.filter((bench) => badOnes(bench) === bad).length, BENCHES, share);
  });

  it.each([[1], [2], [3], [4]])(
    'one measured lobe in twenty is truly low by a whole turn, with %i to measure',
    (positions) => {
      const benches = positions === 2 ? usual : benchesOf(400, { positions });
      const low = benches.flatMap(measured).filter((truth) => truth?.state === 'worn-a-turn').length;
      expectShare(low, benches.length * positions, 0.05);
    },
  );

  it('a lobe worn by a turn reads a turn low, to five graduations', () => {
    const worn = usual.flatMap((bench) =>
      measured(bench).flatMap((truth) => (truth?.state === 'worn-a-turn' ? [{ bench, truth }] : [])),
    );
    for (const { bench, truth } of worn) {
      const lowBy = bench.specification.nominal - fromMm(trueLiftMm(truth), bench.specification.unit);
      expect(Math.abs(lowBy - 0.1)).toBeLessThan(0.005);
    }
    expect(worn.length).toBeGreaterThan(100);
  });

  it('two engines in five have a tappet that hangs or sticks, among those to be measured', () => {
    const faulty = usual.filter((bench) => measured(bench).some((truth) => truth?.tappet.fault !== 'free'));
    expectShare(faulty.length, BENCHES, 0.4);
    expect(
      usual.every((bench) => bench.lobes.filter(({ tappet }) => tappet.fault !== 'free').length <= 1),
    ).toBe(true);
  });
});

describe('every engine', () => {
  it('keeps each lift two graduations from a limit, wherever on the base circle the zero is taken', () => {
    fc.assert(
      fc.property(anyDefinition, anySeed, (definition, seed) => {
        const bench = generateCamLift(definition, seed);
        const { unit, lower, upper } = bench.specification;
        for (const { lobe, highestMm, lowestMm, state } of bench.lobes) {
          const baseCamDeg = 180 + (lobe.fallCamDeg - lobe.riseCamDeg) / 2;
          const plain = { ...lobe, condition: { ...lobe.condition, buildUp: null } };
          for (const zeroMm of [lowestMm, displacementMm(plain, baseCamDeg)]) {
            const lift = fromMm(highestMm - zeroMm, unit);
            const margins = [
              lower === null ? null : lift - lower,
              upper === null ? null : upper - lift,
            ].flatMap((one) => one ?? []);
            const wanted = state === 'sound';
            expect(margins.every((margin) => margin > 0)).toBe(wanted);
            expect(Math.min(...margins.map(Math.abs))).toBeGreaterThanOrEqual(
              (2 - 1e-6) * fromMm(bench.dial.graduation * (bench.dial.unit === 'in' ? 25.4 : 1), unit),
            );
          }
        }
      }),
      LAW,
    );
  });

  it('begins the rise 40 to 60° of crank before its own firing TDC and peaks 30 to 60° after', () => {
    for (const bench of usual.slice(0, 300)) {
      bench.lobes.forEach(({ lobe }, index) => {
        const tdc = firingTdcDeg(bench.firingOrder, index + 1);
        const peakAfter = (lobe.noseCrankDeg - tdc + 720) % 720;
        expect(peakAfter).toBeGreaterThanOrEqual(30 - 1e-9);
        expect(peakAfter).toBeLessThanOrEqual(60 + 1e-9);
        const beginsBefore = 2 * (lobe.riseCamDeg + lobe.dwellCamDeg / 2) - peakAfter;
        expect(beginsBefore).toBeGreaterThanOrEqual(40 - 1e-9);
        expect(beginsBefore).toBeLessThanOrEqual(60 + 1e-9);
      });
    }
  });

  it('lifts each lobe once in 720°, in the firing order', () => {
    for (const bench of [...usual.slice(0, 20), ...benchesOf(20, { cylinders: 4 })]) {
      const noses = bench.firingOrder.map((cylinder) => bench.lobes[cylinder - 1]?.lobe.noseCrankDeg ?? 0);
      const spacing = 720 / bench.cylinders;
      noses.forEach((nose, index) => {
        const next = noses[(index + 1) % noses.length] ?? 0;
        expect((next - nose + 720) % 720).toBeCloseTo(spacing, 9);
      });
      for (const { lobe, highestMm, lowestMm } of bench.lobes) {
        const half = lowestMm + (highestMm - lowestMm) / 2;
        let rises = 0;
        for (let crank = 0; crank < 720; crank += 1) {
          const at = (deg: number) => displacementMm(lobe, (deg - lobe.noseCrankDeg) / 2);
          if (at(crank) < half && at(crank + 1) >= half) rises += 1;
        }
        expect(rises).toBe(1);
      }
    }
  });

  it('knows its highest and lowest place to a tenth of a micrometre', () => {
    for (const bench of usual.slice(0, 10)) {
      for (const { lobe } of bench.lobes) {
        const fine = Array.from({ length: 18_000 }, (_, step) => displacementMm(lobe, step / 50 - 180));
        const found = extremes(lobe);
        expect(Math.abs(found.highestMm - Math.max(...fine))).toBeLessThan(1e-4);
        expect(Math.abs(found.lowestMm - Math.min(...fine))).toBeLessThan(1e-4);
      }
    }
  });

  it.each([
    ['an unknown dial', { dial: 'inch-9' }],
    ['an unknown kind', { kind: 'tea' }],
    ['a firing order that misses a cylinder', { firingOrder: [1, 5, 3, 6, 2, 2] }],
    ['a position it has not', { positions: [7] }],
    ['no position at all', { positions: [] }],
    [
      'a gauge too short for the lift',
      { dial: 'inch-0.001-0.25', specification: { unit: 'in', nominal: 0.237 } },
    ],
  ])('cannot be built with %s', (_, odd) => {
    const definition = { kind: 'cam-lift', ...odd } as unknown as CamLiftDefinition;
    expect(() => generateBench(definition, 1)).toThrow(RangeError);
  });
});

describe('each hidden condition has its own stream', () => {
  const withFaults = (seed: number) => generateCamLift({ kind: 'cam-lift' }, seed);

  it('leaving tappet faults out changes nothing but the tappets', () => {
    for (let seed = 0; seed < 40; seed += 1) {
      const without = generateCamLift({ kind: 'cam-lift', tappetFaults: false }, seed);
      const bare = (bench: CamLiftBench) => ({
        ...bench,
        lobes: bench.lobes.map((lobe) => ({ ...lobe, tappet: null })),
      });
      expect(bare(without)).toEqual(bare(withFaults(seed)));
    }
  });

  it('giving the specification that would have been drawn changes nothing', () => {
    for (let seed = 0; seed < 50; seed += 1) {
      const bench = withFaults(seed);
      expect(generateCamLift({ kind: 'cam-lift', specification: bench.specification }, seed)).toEqual(bench);
    }
  });

  it('asking for other positions leaves shape, backlash, crank and bezel as they were', () => {
    for (let seed = 0; seed < 50; seed += 1) {
      const kept = ({
        backlashDeg,
        startCrankDeg,
        startFaceTurn,
        compression,
        lobes,
        specification,
      }: CamLiftBench) => ({
        ...{ backlashDeg, startCrankDeg, startFaceTurn, compression, specification },
        shapes: lobes.map(({ lobe }) => [lobe.law, lobe.riseCamDeg, lobe.fallCamDeg, lobe.noseCrankDeg]),
      });
      expect(kept(generateCamLift({ kind: 'cam-lift', positions: [2, 5] }, seed))).toEqual(
        kept(withFaults(seed)),
      );
    }
  });

  it('drawing more from one stream leaves the others alone', () => {
    const first = chanceFor('seed', 'wear').uniform(0, 1);
    const other = chanceFor('seed', 'lash');
    for (let n = 0; n < 100; n += 1) other.normal(0, 1);
    expect(chanceFor('seed', 'wear').uniform(0, 1)).toBe(first);
  });

  it('uses each firing order once for each cylinder', () => {
    for (const cylinders of [4, 6] as const) {
      expect([...FIRING_ORDERS[cylinders]].sort()).toEqual(
        Array.from({ length: cylinders }, (_, index) => index + 1),
      );
    }
  });
});
