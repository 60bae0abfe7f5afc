import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DIALS } from '../../server/engine/dial/dial.ts';
import { drawGaugeError, PERFECT_GAUGE, playAt } from '../../server/engine/dial/gauge-error.ts';
import { generateCamLift } from '../../server/engine/exercises/cam-lift/generate.ts';
import { brief, type DialName, toMm } from '../../server/engine/index.ts';
import { chanceFor } from '../../server/engine/random.ts';
import { anySeed, LONG_DIALS } from '../support/arbitraries/cam-lift.ts';
import { LAW, SLOW_LAW } from '../support/arbitraries/settings.ts';
import { logOf, plainBench, pointerAfter, stepThrough } from './support/bench.ts';

const drawn = (seed: number) => drawGaugeError(DIALS['inch-0.001-1'], chanceFor(seed, 'gauge-error'));
const onlyFirst = { firstPress: [], second: [], secondPress: [] };

describe('the play of a gauge', () => {
  const error = { ...PERFECT_GAUGE, hysteresisMm: 0.003 };
  it('follows going in by half its width behind, coming back by half before', () => {
    expect(playAt(error, 0, 1)).toBeCloseTo(0.9985, 12);
    expect(playAt(error, 1, 0.5)).toBeCloseTo(0.5015, 12);
  });
  it('stands still inside its width', () => {
    expect(playAt(error, 1, 1.001)).toBe(1);
    expect(playAt(error, 1, 0.999)).toBe(1);
  });
});

describe('a reading with the errors of its gauge', () => {
  it('comes home off zero by the hysteresis at most; to zero where the tip was let down before it was taken', () => {
    let off = 0;
    for (let seed = 0; seed < 20; seed += 1) {
      const gauge = { ...PERFECT_GAUGE, hysteresisMm: drawn(seed).hysteresisMm };
      const bench = plainBench({ gauge }, {}, seed);
      const log = logOf(bench, onlyFirst);
      // A tip that was raised and let down has come to its zero the way it comes back from the lobe.
      expect(Math.abs(pointerAfter(bench, log))).toBeLessThan(1e-6);
      const returned = pointerAfter(
        bench,
        log.filter(({ type }) => type !== 'lift-tip'),
      );
      expect(returned).toBeGreaterThan(-1e-6);
      expect(returned * 0.0254).toBeLessThanOrEqual(gauge.hysteresisMm + 1e-9);
      off = Math.max(off, returned);
    }
    expect(off).toBeGreaterThan(0.05);
  });

  it('is that of a perfect gauge to the most its errors can make', () => {
    fc.assert(
      fc.property(anySeed, (seed) => {
        const gauge = drawn(seed);
        const high = (of: typeof gauge) => {
          const bench = plainBench({ gauge: of }, {}, seed);
          const { steps } = stepThrough(bench, logOf(bench, onlyFirst));
          return Math.max(
            ...steps.slice(-12).flatMap(({ moments }) => moments.map((one) => one.graduations)),
          );
        };
        const mostMm = 2 * (gauge.waveMm + gauge.slowMm) + gauge.hysteresisMm;
        expect(Math.abs(high(gauge) - high(PERFECT_GAUGE)) * 0.0254).toBeLessThanOrEqual(mostMm + 1e-9);
      }),
      SLOW_LAW,
    );
  });

  it('never is less for more lift, the gauge with all its errors', () => {
    const highs = [0.14, 0.2, 0.2005, 0.237, 0.26, 0.3].map((liftIn) => {
      const bench = plainBench({ liftIn, gauge: drawn(5) });
      const { steps } = stepThrough(bench, logOf(bench, onlyFirst));
      return Math.max(...steps.slice(-12).flatMap(({ moments }) => moments.map((one) => one.graduations)));
    });
    expect(highs).toEqual([...highs].sort((a, b) => a - b));
  });
});

describe('the gauge of a bench', () => {
  it('has a stream of its own and is another for another engine', () => {
    const gauges = Array.from({ length: 30 }, (_, seed) => generateCamLift({ kind: 'cam-lift' }, seed).gauge);
    expect(new Set(gauges.map((gauge) => JSON.stringify(gauge))).size).toBe(30);
    expect(generateCamLift({ kind: 'cam-lift', tappetFaults: false, positions: 4 }, 3).gauge).toEqual(
      gauges[3],
    );
  });

  it('keeps each lift from the limits by its own errors too, and two graduations more', () => {
    fc.assert(
      fc.property(anySeed, fc.constantFrom(...LONG_DIALS), (seed, dial) => {
        const bench = generateCamLift({ kind: 'cam-lift', dial }, seed);
        const { unit, lower, upper } = bench.specification;
        const marginMm = 2 * toMm(bench.dial.graduation, bench.dial.unit) + bench.gauge.waveMm;
        for (const { highestMm, lowestMm } of bench.lobes)
          for (const limit of [lower, upper])
            if (limit !== null)
              expect(Math.abs(highestMm - lowestMm - toMm(limit, unit))).toBeGreaterThanOrEqual(
                marginMm - 1e-9,
              );
      }),
      LAW,
    );
  });

  it.each([
    'metric-0.001-1',
    'metric-0.001-5',
    'inch-0.001-0.25',
    'inch-0.0005-0.125',
    'metric-0.01-5',
  ] as DialName[])('is refused where it does not fit a cam: %s', (dial) => {
    const specification = { unit: 'in', nominal: 0.237 } as const;
    expect(() => generateCamLift({ kind: 'cam-lift', dial, specification }, 1)).toThrow(RangeError);
  });

  it('shows its errors in the brief only where the sheet gives a certificate', () => {
    const plain = brief(generateCamLift({ kind: 'cam-lift' }, 1));
    expect(Object.keys(plain)).not.toContain('certificate');
    const bench = generateCamLift({ kind: 'cam-lift', certificate: true }, 1);
    const { certificate } = brief(bench);
    expect(certificate?.points.map(({ at }) => at).slice(0, 3)).toEqual([0, 0.01, 0.02]);
    expect(certificate?.points.at(-1)?.at).toBeCloseTo(0.9, 9);
    const largest = Math.max(
      ...(certificate?.points ?? []).flatMap((one) => [one.goingIn, one.comingBack].map(Math.abs)),
    );
    expect(largest).toBeGreaterThan(0.0001);
    expect(largest).toBeLessThan(0.002);
    expect(JSON.stringify(brief(bench))).not.toMatch(/waveMm|slowMm|hysteresisMm/);
  });
});
