import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type GaugeStudy, gaugeStudy, type StudyReading } from '../../../server/engine/index.ts';
import { normalAbove } from '../../../server/engine/statistics/distributions.ts';
import { LAW, SLOW_LAW } from '../../support/arbitraries/settings.ts';

/** Readings of a crossed study from a rule. */
function crossed(
  [parts, appraisers, trials]: readonly [number, number, number],
  value: (part: number, appraiser: number, trial: number) => number,
): StudyReading[] {
  const all: StudyReading[] = [];
  for (let part = 0; part < parts; part += 1)
    for (let appraiser = 0; appraiser < appraisers; appraiser += 1)
      for (let trial = 0; trial < trials; trial += 1)
        all.push({ part: `p${part}`, appraiser: `a${appraiser}`, value: value(part, appraiser, trial) });
  return all;
}

const design = fc.tuple(
  fc.integer({ min: 2, max: 5 }),
  fc.integer({ min: 2, max: 3 }),
  fc.integer({ min: 2, max: 3 }),
);
const studies = design.chain(([p, o, r]) =>
  fc
    .array(fc.integer({ min: -99, max: 99 }), { minLength: p * o * r, maxLength: p * o * r })
    .map((values) => crossed([p, o, r], (part, a, t) => (values[(part * o + a) * r + t] ?? 0) / 100)),
);

const SOURCES = [
  'repeatability',
  'appraiser',
  'interaction',
  'reproducibility',
  'gauge',
  'part',
  'total',
] as const;
const numbersOf = ({ anova, averageAndRange }: GaugeStudy) => [
  ...SOURCES.flatMap((name) => [
    anova[name].variance,
    anova[name].varianceLimits.lower,
    anova[name].varianceLimits.upper,
  ]),
  averageAndRange?.gauge.variance ?? Number.NaN,
  averageAndRange?.part.variance ?? Number.NaN,
];
function expectSame(ours: readonly number[], expected: readonly number[], scale = 1) {
  ours.forEach((value, index) => {
    const other = (expected[index] ?? Number.NaN) * scale;
    // Limits over one degree of freedom are a thousand times the estimate, and its rounding with them.
    expect(Math.abs(value - other)).toBeLessThanOrEqual(1e-8 * Math.max(scale, Math.abs(other)));
  });
}

describe('a gauge study', () => {
  it('keeps apart what is the part, the appraiser, the two together and the gauge', () => {
    // Part ±3, appraiser ±2, together ±1, trials ±½: every sum of squares is that, squared, 8 times.
    const sign = (index: number) => (index === 0 ? -1 : 1);
    const readings = crossed(
      [2, 2, 2],
      (p, a, t) => 3 * sign(p) + 2 * sign(a) + sign(p) * sign(a) + 0.5 * sign(t),
    );
    const { table, pooled } = gaugeStudy(readings, { poolAbove: 1 }).anova;
    expect(pooled).toBeNull();
    expect(table.part).toMatchObject({ degreesOfFreedom: 1, sumOfSquares: 72, f: 9 });
    expect(table.appraiser).toMatchObject({ degreesOfFreedom: 1, sumOfSquares: 32, f: 4 });
    expect(table.interaction).toMatchObject({ degreesOfFreedom: 1, sumOfSquares: 8, f: 16 });
    expect(table.equipment).toEqual({ degreesOfFreedom: 4, sumOfSquares: 2, meanSquare: 0.5 });
    const { anova } = gaugeStudy(readings, { poolAbove: 1 });
    expect(SOURCES.map((name) => anova[name].variance)).toEqual([0.5, 6, 3.75, 9.75, 10.25, 16, 26.25]);
  });
  it('pools the interaction just above the p it has, not below', () => {
    const readings = crossed([3, 2, 2], (p, a, t) => 5 * p + a + ((p * 7 + a * 5 + t * 3) % 4));
    const { p } = gaugeStudy(readings).anova.table.interaction;
    expect(p).toBeGreaterThan(0);
    expect(gaugeStudy(readings, { poolAbove: (p ?? 0) - 1e-9 }).anova.pooled).not.toBeNull();
    expect(gaugeStudy(readings, { poolAbove: p ?? 0 }).anova.pooled).toBeNull();
    const pooled = gaugeStudy(readings, { poolAbove: (p ?? 0) - 1e-9 }).anova;
    expect(pooled.interaction.variance).toBe(0);
    expect(pooled.repeatability.variance).toBe(pooled.pooled?.equipment.meanSquare);
  });
  it('pools at 0.25 when nothing is said', () => {
    const readings = crossed([3, 2, 2], (p, a, t) => 5 * p + a + ((p * 7 + a * 5 + t * 3) % 4));
    const p = gaugeStudy(readings).anova.table.interaction.p ?? 0;
    expect(gaugeStudy(readings).anova.pooled === null).toBe(p <= 0.25);
    expect(gaugeStudy(readings)).toEqual(gaugeStudy(readings, { poolAbove: 0.25 }));
  });
  it('sets a component that comes out negative to 0', () => {
    const { anova } = gaugeStudy(crossed([3, 2, 2], (p, _a, t) => p + 10 * t));
    expect(anova.table.appraiser.sumOfSquares).toBe(0);
    expect(anova.appraiser.variance).toBe(0);
    expect(anova.part.variance).toBe(0);
    expect(anova.appraiser.varianceLimits.lower).toBe(0);
  });
  it('gives percentages of a tolerance only where there is one', () => {
    const readings = crossed([3, 2, 2], (p, a, t) => 5 * p + a + 0.1 * t * (p + 1));
    expect(gaugeStudy(readings).anova.gauge.percentOfTolerance).toBeNull();
    const { gauge } = gaugeStudy(readings, { tolerance: 12 }).anova;
    expect(gauge.percentOfTolerance).toBeCloseTo((100 * 6 * gauge.sd) / 12, 10);
    expect(gauge.studyVariation).toBe(6 * gauge.sd);
    const wide = gaugeStudy(readings, { tolerance: 12, studyWidth: 5.15 });
    expect(wide.anova.gauge.studyVariation).toBeCloseTo(5.15 * gauge.sd, 12);
    expect(wide.averageAndRange?.total.percentOfTolerance).toBeGreaterThan(0);
  });
  it('names the cells whose trials differ by more than the rest explains', () => {
    const readings = crossed([5, 2, 2], (p, a, t) => p + a * 0.1 + t * (p === 3 && a === 1 ? 1 : 0.1));
    const { ranges } = gaugeStudy(readings);
    expect(ranges?.meanRange).toBeCloseTo(0.19, 12);
    expect(ranges?.upper).toBeCloseTo(3.267 * 0.19, 12);
    expect(ranges?.outside).toEqual([{ part: 'p3', appraiser: 'a1', range: expect.closeTo(1, 9) }]);
    expect(ranges?.cells).toHaveLength(10);
  });
  it('tells no parts apart where nothing varies, and all of them with a perfect gauge', () => {
    const still = gaugeStudy(crossed([2, 2, 2], () => 7));
    expect([still.anova.categories, still.averageAndRange?.categories]).toEqual([0, 0]);
    expect(still.anova.gauge.percentOfStudy).toBe(0);
    const perfect = gaugeStudy(crossed([3, 2, 2], (p) => p));
    expect(perfect.anova.categories).toBe(Number.POSITIVE_INFINITY);
  });
  it('goes by variance alone beyond what the constants reach', () => {
    const many = gaugeStudy(crossed([26, 2, 2], (p, a, t) => p + 0.1 * a + 0.2 * ((p + t) % 2)));
    expect(many.averageAndRange).toBeNull();
    expect(many.ranges).not.toBeNull();
    expect(gaugeStudy(crossed([25, 2, 2], (p, a, t) => p + a + t)).averageAndRange).not.toBeNull();
    const often = gaugeStudy(crossed([2, 2, 11], (p, a, t) => p + a + t));
    expect([often.averageAndRange, often.ranges]).toEqual([null, null]);
  });
});

describe('a study that cannot be worked out', () => {
  const whole = crossed([3, 2, 2], (p, a, t) => p + a + t);
  it.each([
    ['a reading too few', whole.slice(0, -1), 'Part p2, appraiser a1 has 1 readings'],
    ['a reading too many', [...whole, ...whole.slice(4, 5)], 'Part p1, appraiser a0 has 3 readings'],
    [
      'a cell left out',
      whole.filter(({ part, appraiser }) => part !== 'p1' || appraiser !== 'a1'),
      'Part p1, appraiser a1 has 0 readings',
    ],
    ['one part', whole.filter(({ part }) => part === 'p0'), 'two parts'],
    ['one appraiser', whole.filter(({ appraiser }) => appraiser === 'a0'), 'two appraisers'],
    ['one trial', crossed([3, 2, 1], (p) => p), 'two trials'],
    ['no readings', [], 'two parts'],
    [
      'a value that is no number',
      [...whole.slice(1), { part: 'p0', appraiser: 'a0', value: Number.NaN }],
      'finite',
    ],
  ])('for %s is refused and says why', (_, readings, why) => {
    expect(() => gaugeStudy(readings)).toThrow(RangeError);
    expect(() => gaugeStudy(readings)).toThrow(why);
  });
  it.each([{ poolAbove: -0.1 }, { poolAbove: 1.1 }, { tolerance: 0 }, { studyWidth: 0 }, { confidence: 1 }])(
    'for the option %j is refused',
    (option) => expect(() => gaugeStudy(whole, option)).toThrow(RangeError),
  );
});

describe('whatever was read', () => {
  it('other names and another order change nothing', () =>
    fc.assert(
      fc.property(studies, (readings) => {
        const renamed = readings
          .map(({ part, appraiser, value }) => ({ part: `x${appraiser}`, appraiser: part, value }))
          .map(({ part, appraiser, value }) => ({ part: appraiser, appraiser: part, value }))
          .toReversed();
        expectSame(numbersOf(gaugeStudy(renamed)), numbersOf(gaugeStudy(readings)));
      }),
      SLOW_LAW,
    ));
  it('moving every reading changes no variance, scaling changes all by its square', () =>
    fc.assert(
      fc.property(studies, (readings) => {
        const before = numbersOf(gaugeStudy(readings));
        const map = (to: (value: number) => number) =>
          numbersOf(gaugeStudy(readings.map((reading) => ({ ...reading, value: to(reading.value) }))));
        expectSame(
          map((value) => value + 25),
          before,
        );
        expectSame(
          map((value) => value * 4),
          before,
          16,
        );
      }),
      SLOW_LAW,
    ));
  it('the parts add up, and limits are in order', () =>
    fc.assert(
      fc.property(studies, (readings) => {
        const { anova } = gaugeStudy(readings);
        expect(anova.repeatability.variance + anova.reproducibility.variance).toBeCloseTo(
          anova.gauge.variance,
          12,
        );
        expect(anova.gauge.variance + anova.part.variance).toBeCloseTo(anova.total.variance, 12);
        for (const name of SOURCES) {
          const { lower, upper } = anova[name].varianceLimits;
          expect(lower).toBeGreaterThanOrEqual(0);
          expect(upper).toBeGreaterThanOrEqual(lower);
        }
      }),
      LAW,
    ));
  it('more confidence never narrows the limits', () =>
    fc.assert(
      fc.property(studies, (readings) => {
        const [narrow, wide] = [0.9, 0.99].map((confidence) => gaugeStudy(readings, { confidence }).anova);
        for (const name of ['repeatability', 'appraiser', 'part', 'gauge', 'total'] as const) {
          const [inner, outer] = [narrow?.[name].varianceLimits, wide?.[name].varianceLimits];
          expect(outer?.lower).toBeLessThanOrEqual((inner?.lower ?? 0) + 1e-12);
          expect(outer?.upper).toBeGreaterThanOrEqual((inner?.upper ?? 0) - 1e-12);
        }
      }),
      SLOW_LAW,
    ));
});

describe('the constants of averages and ranges', () => {
  /** E[R] and E[R²] of n standard normal values, from the distribution of the range, by the trapezoidal rule. */
  function rangeMoments(n: number): { mean: number; square: number } {
    const step = 0.05;
    let [mean, square] = [0, 0];
    const below = Array.from({ length: 321 }, (_, index) => normalAbove(8 - index * step));
    const density = below.map(
      (_, index) => Math.exp(-((8 - index * step) ** 2) / 2) / Math.sqrt(2 * Math.PI),
    );
    for (let low = 0; low < below.length; low += 1)
      for (let high = low + 1; high < below.length; high += 1) {
        const inside = (below[high] ?? 0) - (below[low] ?? 0);
        const chance =
          n * (n - 1) * (density[low] ?? 0) * (density[high] ?? 0) * inside ** (n - 2) * step * step;
        mean += (high - low) * step * chance;
        square += ((high - low) * step) ** 2 * chance;
      }
    return { mean, square };
  }
  const study = (
    sizes: readonly [number, number, number],
    value: (p: number, a: number, t: number) => number,
  ) => gaugeStudy(crossed(sizes, value)).averageAndRange;
  it.each(Array.from({ length: 23 }, (_, index) => index + 3))('for one sample of %i are 1/√E[R²]', (n) => {
    const k3 = study([n, 2, 2], (p) => (p === 0 ? 1 : 0))?.part.sd;
    expect(k3).toBeCloseTo(1 / Math.sqrt(rangeMoments(n).square), 3);
    const k2 = study([2, n, 2], (_p, a) => (a === 0 ? 1 : 0))?.reproducibility.sd;
    expect(k2).toBe(k3);
  });
  it.each([3, 4, 5, 6, 7, 8, 9, 10])('for many samples of %i are 1/E[R], and limits 1 ± 3 d₃/d₂', (n) => {
    const { mean, square } = rangeMoments(n);
    const { averageAndRange, ranges } = gaugeStudy(crossed([2, 2, n], (_p, _a, t) => (t === 0 ? 1 : 0)));
    expect(averageAndRange?.repeatability.sd).toBeCloseTo(1 / mean, 3);
    const relative = (3 * Math.sqrt(square - mean * mean)) / mean;
    expect(ranges?.upper).toBeCloseTo(1 + relative, 2);
    expect(ranges?.lower).toBeCloseTo(Math.max(0, 1 - relative), 2);
  });
});
