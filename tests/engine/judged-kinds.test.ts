import { describe, expect, it } from 'vitest';
import {
  type AnyBench,
  type BenchOf,
  displacementMm,
  generateBench,
  gradeAttempt,
  KIND_NAMES,
  type KindName,
  lobeEvent,
} from '../../server/engine/index.ts';
import type { GaugedKind } from '../support/gauged-observers.ts';
import { stepsFromLimits } from '../support/indicator-figures.ts';
import { lawOf, seeds } from '../support/kind-laws.ts';

/** Kinds with a part under the gauge, held against limits. */
type JudgedKind = Exclude<GaugedKind, 'dial-reading'>;
const NOT_JUDGED: readonly KindName[] = ['cam-lift', 'fault-finding', 'dial-reading'];
const JUDGED = KIND_NAMES.filter((kind) => !NOT_JUDGED.includes(kind));

/** Graduations from every limit at which a true answer lies, by kind. */
const distances: { readonly [K in JudgedKind]: (bench: BenchOf<K>) => number[] } = {
  'end-play': ({ floatMm, specification, dial }) => fromLimits([floatMm], specification, dial),
  'run-out': ({ places, specification, limitOn, dial }) =>
    places.flatMap((place) => {
      const heights = seeds(1440).map((quarter) => {
        const rad = ((quarter / 4) * Math.PI) / 180;
        const { eccentricityMm: e, highDeg, ovalMm, ovalDeg } = place;
        return (
          e * Math.cos(rad - (highDeg * Math.PI) / 180) +
          ovalMm * Math.cos(2 * rad - (ovalDeg * Math.PI) / 90)
        );
      });
      const tir = Math.max(...heights) - Math.min(...heights);
      const scale = limitOn === 'tir' ? 1 : 2;
      const onTir = { ...specification, upper: (specification.upper ?? 0) * scale };
      return fromLimits([tir], onTir, dial);
    }),
  'lift-curve': ({ lobe, limits, checking, dial }) => {
    const heights = seeds(360).map((quarter) => displacementMm(lobe, quarter / 4 - 45));
    const event = lobeEvent(lobe, checking.unit === 'in' ? checking.lift * 25.4 : checking.lift);
    // A degree and a half is to a careful table what two graduations are to a careful eye.
    const degrees = (value: number, { lower, upper }: { lower: number | null; upper: number | null }) =>
      [lower, upper].flatMap((limit) => (limit === null ? [] : [(2 * Math.abs(value - limit)) / 1.5]));
    return [
      ...fromLimits([Math.max(...heights)], limits.lift, dial),
      ...degrees(event?.widthDeg ?? 0, limits.width),
      ...degrees(event?.centreDeg ?? 0, limits.centre),
    ];
  },
  backlash: ({ lashMm, specification, spread, dial }) => [
    ...fromLimits(lashMm, specification, dial),
    ...fromLimits(
      [Math.max(...lashMm) - Math.min(...lashMm)],
      { ...specification, lower: null, upper: spread },
      dial,
    ),
  ],
  'liner-protrusion': ({ liners, limits, dial }) => [
    ...liners.flatMap(({ pointsMm }) => [
      ...fromLimits(pointsMm, limits.each, dial),
      ...fromLimits(
        [Math.max(...pointsMm) - Math.min(...pointsMm)],
        { ...limits.each, lower: null, upper: limits.within },
        dial,
      ),
    ]),
    ...liners.slice(1).flatMap(({ pointsMm }, index) => {
      const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;
      const step = Math.abs(mean(pointsMm) - mean(liners[index]?.pointsMm ?? []));
      return fromLimits([step], { ...limits.each, lower: null, upper: limits.between }, dial);
    }),
  ],
  'bore-gauge': ({ diametersMm: { top, middle, bottom }, limits, dial }) => {
    const levels = [top, middle, bottom];
    const apart = (values: readonly number[]) => Math.max(...values) - Math.min(...values);
    const over = (values: readonly number[], upper: number | null) =>
      fromLimits(values, { unit: limits.unit, lower: null, upper }, dial);
    return [
      ...over([Math.max(...levels.flatMap(({ along, across }) => [along, across]))], limits.upper),
      ...over([Math.max(...levels.map(({ along, across }) => Math.abs(along - across)))], limits.outOfRound),
      ...over(
        [Math.max(apart(levels.map(({ along }) => along)), apart(levels.map(({ across }) => across)))],
        limits.taper,
      ),
    ];
  },
  'valve-lift': ({ valves, specification, dial }) =>
    valves.flatMap(({ valve, lobe, ratio, lashMm }) => {
      const { lower, upper } = specification[valve];
      const { unit } = specification;
      const lobeMm = Math.max(...seeds(1200).map((at) => displacementMm(lobe, at / 20 - 30)));
      return fromLimits([ratio * lobeMm - lashMm], { unit, lower, upper }, dial);
    }),
  // Read to a tenth of a graduation: two of those.
  'indicator-check': stepsFromLimits,
};

function fromLimits(
  valuesMm: readonly number[],
  { lower, upper, unit }: { lower: number | null; upper: number | null; unit: 'in' | 'mm' },
  dial: { graduation: number; unit: 'in' | 'mm' },
): number[] {
  const mm = (length: number, own: 'in' | 'mm') => (own === 'in' ? length * 25.4 : length);
  return valuesMm.flatMap((valueMm) =>
    [lower, upper].flatMap((limit) =>
      limit === null ? [] : [Math.abs(valueMm - mm(limit, unit)) / mm(dial.graduation, dial.unit)],
    ),
  );
}

describe.each(JUDGED)('a bench of the kind %s', (kind) => {
  const law = lawOf(kind);
  const distanceOf = distances[kind as JudgedKind] as (bench: AnyBench) => number[];
  // A joint's torque is no reading: tests/engine/torque-adapter.test.ts has how far it keeps from its limits.
  const isRead = kind in distances;

  it.runIf(isRead)(
    'keeps every answer two graduations from every limit',
    () => {
      for (const definition of law.definitions)
        for (const seed of seeds(300)) {
          const nearest = Math.min(...distanceOf(generateBench(definition, seed)));
          expect({ seed, near: nearest < 2 - 0.01 }).toEqual({ seed, near: false });
        }
    },
    20_000,
  );

  it('is sound at level 1, and at level 2 calls for different verdicts', () => {
    const verdicts = (level: 1 | 2) =>
      new Set(
        seeds(60).flatMap((seed) => {
          const bench = generateBench(
            { ...law.definitions[0], level } as Parameters<typeof generateBench>[0],
            seed,
          );
          return (gradeAttempt(bench, [], law.blank).items ?? []).map(({ trueVerdict }) => trueVerdict);
        }),
      );
    expect([...verdicts(1)]).toEqual(['inside']);
    expect(verdicts(2).size).toBeGreaterThan(1);
  });

  it('never passes a bad part written down as inside', () => {
    let bad = 0;
    for (const seed of seeds(30)) {
      const { bench, actions, sheet } = law.observe(
        { ...law.definitions[0] } as Parameters<typeof generateBench>[0],
        seed,
      );
      const inside = JSON.parse(
        JSON.stringify(sheet).replace(
          /"(below|above|uneven|out-of-round|tapered|turns-on|shifted)"/g,
          '"inside"',
        ),
      ) as typeof sheet;
      const grade = gradeAttempt(bench, actions, inside);
      const isBad = (grade.items ?? []).some(({ trueVerdict }) => trueVerdict !== 'inside');
      bad += isBad ? 1 : 0;
      expect({ seed, stops: grade.stops.length > 0, verdict: grade.points.verdict }).toEqual({
        ...{ seed, stops: isBad, verdict: isBad ? 0 : 20 },
      });
    }
    expect(bad).toBeGreaterThan(5);
  }, 20_000);

  it('stops a sheet filled in without measuring', () => {
    const { bench, sheet } = law.observe({ ...law.definitions[0] } as Parameters<typeof generateBench>[0], 4);
    const grade = gradeAttempt(bench, [], sheet);
    expect(grade.stops.map(({ code }) => code)).toContain('reading-without-measurement');
    expect(grade.points.setUp + grade.points.procedure).toBe(0);
  });
});
