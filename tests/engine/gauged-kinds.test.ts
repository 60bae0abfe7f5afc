import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ActionOf,
  type AnyAction,
  type AnyBench,
  type AnySheet,
  act,
  type BenchOf,
  type DefinitionOf,
  displacementMm,
  generateBench,
  gradeAttempt,
  graduationsPerTurn,
  KIND_NAMES,
  type KindName,
  lobeEvent,
  lookAt,
  type SheetOf,
  startBench,
} from '../../server/engine/index.ts';
import { SLOW_LAW } from '../support/arbitraries/settings.ts';
import {
  type GaugedKind,
  observeBacklash,
  observeEndPlay,
  observeLiners,
  observeRunOut,
} from '../support/gauged-observers.ts';
import { observeLiftCurve } from '../support/lift-curve-observer.ts';
import { observe } from '../support/observer.ts';

interface Law<K extends KindName> {
  readonly definitions: readonly DefinitionOf<K>[];
  readonly observe: (
    definition: DefinitionOf<K>,
    seed: number,
  ) => { bench: BenchOf<K>; actions: readonly ActionOf<K>[]; sheet: SheetOf<K> };
  readonly blank: SheetOf<K>;
  /** The same work with its limits told in the other unit; null where there is nothing to tell otherwise. */
  readonly otherUnit: readonly [DefinitionOf<K>, DefinitionOf<K>];
}

const in8 = (upper: number) => ({ unit: 'in', upper }) as const;
const inMm = (upper: number) => ({ unit: 'mm', upper: upper * 25.4 }) as const;

/** Every kind in the registry: the compiler asks for a new one here. */
const LAWS: { readonly [K in KindName]: Law<K> } = {
  'cam-lift': {
    definitions: [{ kind: 'cam-lift' }],
    observe: (definition, seed) => observe(definition, seed),
    blank: { lobes: [] },
    otherUnit: [
      { kind: 'cam-lift', specification: { unit: 'in', nominal: 0.25, lower: 0.246 } },
      { kind: 'cam-lift', specification: { unit: 'mm', nominal: 6.35, lower: 0.246 * 25.4 } },
    ],
  },
  'run-out': {
    definitions: [
      { kind: 'run-out' },
      { kind: 'run-out', subject: 'housing', level: 3 },
      { kind: 'run-out', subject: 'housing', dial: 'inch-0.0005-0.5', face: 'balanced' },
    ],
    observe: observeRunOut,
    blank: { places: [] },
    otherUnit: [
      { kind: 'run-out', subject: 'housing', specification: in8(0.008) },
      { kind: 'run-out', subject: 'housing', specification: inMm(0.008) },
    ],
  },
  'end-play': {
    definitions: [
      { kind: 'end-play' },
      { kind: 'end-play', subject: 'wheel-bearing', level: 3 },
      { kind: 'end-play', dial: 'metric-0.01-10', specification: { unit: 'mm', lower: 0.05, upper: 0.2 } },
    ],
    observe: observeEndPlay,
    blank: { readings: [], endPlay: null, verdict: null, next: null },
    otherUnit: [
      { kind: 'end-play', specification: in8(0.018) },
      { kind: 'end-play', specification: inMm(0.018) },
    ],
  },
  backlash: {
    definitions: [
      { kind: 'backlash' },
      { kind: 'backlash', teeth: 6, level: 3 },
      { kind: 'backlash', specification: { unit: 'in', lower: 0.002, upper: 0.02 }, spread: 0.002 },
    ],
    observe: observeBacklash,
    blank: { teeth: [], smallest: null, largest: null, spread: null, verdict: null, next: null },
    otherUnit: [
      { kind: 'backlash', specification: in8(0.012) },
      { kind: 'backlash', specification: inMm(0.012) },
    ],
  },
  'liner-protrusion': {
    definitions: [
      { kind: 'liner-protrusion' },
      { kind: 'liner-protrusion', liners: 4, level: 3 },
      {
        kind: 'liner-protrusion',
        specification: { unit: 'in', lower: 0.001, upper: 0.012 },
        within: 0.002,
        between: 0.004,
      },
    ],
    observe: observeLiners,
    blank: { liners: [], between: null, betweenVerdict: null, betweenNext: null },
    otherUnit: [
      { kind: 'liner-protrusion', specification: in8(0.004) },
      { kind: 'liner-protrusion', specification: inMm(0.004) },
    ],
  },
  'lift-curve': {
    definitions: [
      { kind: 'lift-curve' },
      { kind: 'lift-curve', level: 3, dial: 'metric-0.01-10' },
      {
        kind: 'lift-curve',
        level: 3,
        face: 'balanced',
        specification: { unit: 'in', lower: 0.236 },
        width: { lower: 180, upper: 190 },
        centre: { lower: 56, upper: 62 },
      },
    ],
    observe: observeLiftCurve,
    blank: {
      ...{ points: [], highPointDeg: null, opensDeg: null, closesDeg: null, widthDeg: null },
      ...{ centreDeg: null, maximumLift: null, verdict: null, next: null },
    },
    otherUnit: [
      { kind: 'lift-curve', specification: { unit: 'in', lower: 0.236, upper: 0.246 } },
      { kind: 'lift-curve', specification: { unit: 'mm', lower: 0.236 * 25.4, upper: 0.246 * 25.4 } },
    ],
  },
};

/** Fewer careful students where one of them bars an engine round for half a second. */
const CAREFUL: Readonly<Partial<Record<KindName, number>>> = { 'cam-lift': 2, 'lift-curve': 10 };

const GAUGED = KIND_NAMES.filter((kind) => kind !== 'cam-lift');
const seeds = (count: number) => Array.from({ length: count }, (_, seed) => seed);

/** A law of one kind, with the kind's name forgotten: what every kind takes and gives. */
interface AnyLaw {
  readonly definitions: readonly Parameters<typeof generateBench>[0][];
  readonly observe: (definition: Parameters<typeof generateBench>[0], seed: number) => AnyAttempt;
  readonly blank: AnySheet;
  readonly otherUnit: readonly [Parameters<typeof generateBench>[0], Parameters<typeof generateBench>[0]];
}
interface AnyAttempt {
  readonly bench: AnyBench;
  readonly actions: readonly AnyAction[];
  readonly sheet: AnySheet;
}
const lawOf = (kind: KindName) => LAWS[kind] as unknown as AnyLaw;

function freezeDeeply<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(freezeDeeply);
  }
  return value;
}

const fold = (bench: AnyBench, actions: readonly AnyAction[]) =>
  actions.reduce((state, action) => act(bench, state, action).state, startBench(bench));

const garbage = fc.oneof(
  fc.anything(),
  fc.record({
    type: fc.constantFrom(
      ...['wipe', 'set-indicator', 'align', 'lift-tip', 'zero', 'clamp', 'unclamp', 'note', '__proto__'],
      ...[
        'pry',
        'turn',
        'push',
        'move',
        'rock',
        'hold',
        'turn-to',
        'place',
        'press-liner',
        'constructor',
        'bar',
        'try-stop',
        'set-wheel',
      ],
    ),
    turns: fc.oneof(fc.constant(0.5), fc.anything()),
    degrees: fc.oneof(fc.integer({ min: -400, max: 400 }), fc.anything()),
    way: fc.constantFrom('front', 'rear', 1, -1, 0, null),
    effort: fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.anything()),
    tooth: fc.oneof(fc.integer({ min: 0, max: 5 }), fc.anything()),
    liner: fc.oneof(fc.integer({ min: 0, max: 3 }), fc.anything()),
    point: fc.oneof(fc.integer({ min: 0, max: 5 }), fc.anything()),
    on: fc.constantFrom('deck', 'liner', true, null),
    place: fc.constantFrom('rim', 'face', 'moon'),
    item: fc.anything(),
    box: fc.anything(),
  }),
) as fc.Arbitrary<AnyAction>;

describe.each(KIND_NAMES)('the kind %s', (kind) => {
  const law = lawOf(kind);

  it('gives the same bench and grade for the same seed, and another bench for another', () => {
    for (const definition of law.definitions) {
      const [one, other] = [law.observe(definition, 5), law.observe(definition, 5)];
      expect(JSON.stringify(other)).toBe(JSON.stringify(one));
      const grade = gradeAttempt(one.bench, one.actions, one.sheet);
      expect(JSON.stringify(gradeAttempt(other.bench, other.actions, other.sheet))).toBe(
        JSON.stringify(grade),
      );
      const benches = seeds(20).map((seed) =>
        JSON.stringify(generateBench(definition, seed)).replace(/"seed":"\d+"/, ''),
      );
      expect(new Set(benches).size).toBe(20);
    }
  });

  it('changes nothing it was given', () => {
    for (const definition of law.definitions) {
      const { actions, sheet } = freezeDeeply(law.observe(definition, 3));
      const bench = freezeDeeply(generateBench(freezeDeeply(definition), 3));
      actions.reduce(
        (state, action) => freezeDeeply(act(bench, state, action).state),
        freezeDeeply(startBench(bench)),
      );
      expect(gradeAttempt(bench, actions, sheet).total).toBe(100);
    }
  });

  it('shows a pointer that never jumps more than a quarter of a turn but where the bezel is turned', () => {
    for (const definition of law.definitions) {
      const { bench, actions } = law.observe(definition, 11);
      const perTurn = graduationsPerTurn(bench.dial);
      let state = startBench(bench);
      let last = lookAt(bench, state).sample.pointer;
      for (const action of actions) {
        const { state: next, seen } = act(bench, state, action);
        for (const { pointer } of seen.samples) {
          const moved = Math.abs(((pointer - last + 1.5 * perTurn) % perTurn) - perTurn / 2);
          // Turning the bezel, or taking the indicator off, is not the work moving.
          const still = action.type === 'zero' || seen.now.indicator === 'off';
          if (!still) expect(moved).toBeLessThanOrEqual(perTurn / 4 + 0.01);
          last = pointer;
        }
        state = next;
        last = seen.now.sample.pointer;
      }
    }
  });

  it('gives a careful student who uses only what can be seen full points, and the true verdict', () => {
    for (const definition of law.definitions) {
      for (const seed of seeds(CAREFUL[kind] ?? 40)) {
        const { bench, actions, sheet } = law.observe(definition, seed);
        const grade = gradeAttempt(bench, actions, sheet);
        const charged = grade.remarks.filter(({ pointsLost }) => pointsLost > 0);
        expect({ seed, charged, stops: grade.stops, mistakes: grade.mistakes, total: grade.total }).toEqual({
          ...{ seed, charged: [], stops: [], mistakes: [], total: 100 },
        });
        for (const item of grade.items ?? []) expect(item.writtenVerdict).toBe(item.trueVerdict);
      }
    }
  }, 20_000);

  it('grades the same whichever unit the limits are told in', () => {
    for (const seed of seeds(kind === 'cam-lift' ? 2 : 15)) {
      const [one, other] = law.otherUnit.map((definition) => {
        const { bench, actions, sheet } = law.observe(definition, seed);
        const { points, stops, remarks } = gradeAttempt(bench, actions, sheet);
        return { points, stops, remarks };
      });
      expect(other).toEqual(one);
    }
  }, 20_000);

  it('never throws for an odd action, and stays to be looked at and graded', () => {
    const [definition] = law.definitions;
    if (definition === undefined) throw new Error('Each kind has a definition to test.');
    const { bench, actions } = law.observe(definition, 1);
    fc.assert(
      fc.property(fc.array(garbage, { maxLength: 25 }), (odd) => {
        const mixed = odd.flatMap((action, index) => [action, ...actions.slice(index, index + 1)]);
        const { sample } = lookAt(bench, fold(bench, mixed));
        expect([sample.pointer, sample.plungerMm].every(Number.isFinite)).toBe(true);
        expect(Number.isFinite(gradeAttempt(bench, mixed, law.blank).total)).toBe(true);
      }),
      SLOW_LAW,
    );
  });

  it('gives no points for a blank sheet and an empty log but those for nothing done wrong', () => {
    const [definition] = law.definitions;
    if (definition === undefined) throw new Error('Each kind has a definition to test.');
    const grade = gradeAttempt(generateBench(definition, 1), [], law.blank);
    expect({ total: grade.total, stops: grade.stops }).toEqual({ total: 0, stops: [] });
  });
});

/** Graduations from every limit at which a true answer lies, by kind. */
const distances: { readonly [K in GaugedKind]: (bench: BenchOf<K>) => number[] } = {
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

describe.each(GAUGED)('a bench of the kind %s', (kind) => {
  const law = lawOf(kind);
  const distanceOf = distances[kind as GaugedKind] as (bench: AnyBench) => number[];

  it('keeps every answer two graduations from every limit', () => {
    for (const definition of law.definitions)
      for (const seed of seeds(300)) {
        const nearest = Math.min(...distanceOf(generateBench(definition, seed)));
        expect({ seed, near: nearest < 2 - 0.01 }).toEqual({ seed, near: false });
      }
  }, 20_000);

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
        JSON.stringify(sheet).replace(/"(below|above|uneven|shifted)"/g, '"inside"'),
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
