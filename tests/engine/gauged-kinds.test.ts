import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import {
  type ActionOf,
  type AnyAction,
  type AnyBench,
  type AnySheet,
  type AnyView,
  act,
  type BenchOf,
  type DefinitionOf,
  type Dial,
  displacementMm,
  generateBench,
  gradeAttempt,
  graduationsPerTurn,
  type IndicatorCheckLimits,
  isKind,
  KIND_NAMES,
  type KindName,
  lobeEvent,
  lookAt,
  type SheetOf,
  startBench,
} from '../../server/engine/index.ts';
import { SLOW_LAW } from '../support/arbitraries/settings.ts';
import { observeBore } from '../support/bore-observer.ts';
import { observeDialReading } from '../support/dial-reader.ts';
import { observeFault } from '../support/fault-observer.ts';
import {
  type GaugedKind,
  observeBacklash,
  observeEndPlay,
  observeLiners,
  observeRunOut,
} from '../support/gauged-observers.ts';
import { stepsFromLimits } from '../support/indicator-figures.ts';
import { observeIndicatorCheck } from '../support/indicator-observer.ts';
import { observeLiftCurve } from '../support/lift-curve-observer.ts';
import { observe } from '../support/observer.ts';
import { observeTorque } from '../support/torque-observer.ts';
import { observeValves } from '../support/valve-observer.ts';

// Whole logs of every kind are folded, some of them a degree at a time.
vi.setConfig({ testTimeout: 30_000 });

interface Law<K extends KindName> {
  readonly definitions: readonly DefinitionOf<K>[];
  readonly observe: (
    definition: DefinitionOf<K>,
    seed: number,
  ) => { bench: BenchOf<K>; actions: readonly ActionOf<K>[]; sheet: SheetOf<K> };
  readonly blank: SheetOf<K>;
  /** The same work with its limits told in the other unit; null where there is nothing to tell otherwise. */
  readonly otherUnit: readonly [DefinitionOf<K>, DefinitionOf<K>] | null;
}

const in8 = (upper: number) => ({ unit: 'in', upper }) as const;
const inMm = (upper: number) => ({ unit: 'mm', upper: upper * 25.4 }) as const;

const LIFTS = {
  unit: 'in',
  ratio: 1.6,
  intake: { lower: 0.4, upper: 0.44, lash: 0.01 },
  exhaust: { lower: 0.42, upper: 0.46, lash: 0.02 },
} as const;
const limitsInMm = ({ lower, upper, lash }: { lower: number; upper: number; lash: number }) => ({
  lower: lower * 25.4,
  upper: upper * 25.4,
  lash: lash * 25.4,
});
const BORE = { nominal: 4.25, upper: 4.26, outOfRound: 0.004, taper: 0.0035 };
const JOINT = { name: 'Clamp', order: [1, 3, 2, 4] } as const;
const CHECK_IN: IndicatorCheckLimits = {
  ...{ unit: 'in', wholeRange: 0.002, oneTurn: 0.001, adjacent: 0.0006 },
  ...{ hysteresis: 0.0004, repeatability: 0.0003 },
};
const CHECK_MM: IndicatorCheckLimits = {
  ...{ unit: 'mm', wholeRange: 0.002 * 25.4, oneTurn: 0.001 * 25.4, adjacent: 0.0006 * 25.4 },
  ...{ hysteresis: 0.0004 * 25.4, repeatability: 0.0003 * 25.4 },
};

/** Every kind in the registry: the compiler asks for a new one here. */
const LAWS: { readonly [K in KindName]: Law<K> } = {
  'cam-lift': {
    definitions: [
      { kind: 'cam-lift' },
      { kind: 'cam-lift', level: 1 },
      { kind: 'cam-lift', level: 3, rollerVerdict: true },
      { kind: 'cam-lift', chooseGauge: true, chooseRod: true, lookUp: true },
      { kind: 'cam-lift', decision: 'guarded', closeCalls: true },
    ],
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
  'bore-gauge': {
    definitions: [
      { kind: 'bore-gauge' },
      { kind: 'bore-gauge', level: 3, face: 'balanced' },
      {
        kind: 'bore-gauge',
        level: 3,
        dial: 'metric-0.01-10',
        specification: { unit: 'mm', nominal: 130, upper: 130.25, outOfRound: 0.08, taper: 0.1 },
      },
      {
        kind: 'bore-gauge',
        dial: 'metric-0.001-1',
        specification: { unit: 'mm', nominal: 95, upper: 95.2, outOfRound: 0.03, taper: 0.03 },
      },
    ],
    observe: observeBore,
    blank: { places: [], largest: null, outOfRound: null, taper: null, verdict: null, next: null },
    otherUnit: [
      { kind: 'bore-gauge', specification: { unit: 'in', ...BORE } },
      {
        kind: 'bore-gauge',
        specification: {
          ...{ unit: 'mm', nominal: BORE.nominal * 25.4, upper: BORE.upper * 25.4 },
          ...{ outOfRound: BORE.outOfRound * 25.4, taper: BORE.taper * 25.4 },
        },
      },
    ],
  },
  'valve-lift': {
    definitions: [
      { kind: 'valve-lift' },
      { kind: 'valve-lift', level: 3, tappets: 'hydraulic', cylinders: 4 },
      {
        kind: 'valve-lift',
        level: 3,
        dial: 'metric-0.01-20',
        firingOrder: [1, 2, 4, 3],
        valves: [
          { cylinder: 2, valve: 'exhaust' },
          { cylinder: 4, valve: 'intake' },
        ],
        specification: {
          ...{ unit: 'mm', ratio: 1.4 },
          ...{ intake: limitsInMm(LIFTS.intake), exhaust: limitsInMm(LIFTS.exhaust) },
        },
      },
    ],
    observe: observeValves,
    blank: { valves: [] },
    otherUnit: [
      { kind: 'valve-lift', specification: LIFTS },
      {
        kind: 'valve-lift',
        specification: {
          ...{ unit: 'mm', ratio: 1.6 },
          ...{ intake: limitsInMm(LIFTS.intake), exhaust: limitsInMm(LIFTS.exhaust) },
        },
      },
    ],
  },
  'indicator-check': {
    definitions: [
      { kind: 'indicator-check' },
      { kind: 'indicator-check', level: 3, plan: 'whole' },
      { kind: 'indicator-check', level: 3, dial: 'metric-0.001-1' },
      { kind: 'indicator-check', dial: 'inch-0.001-0.25', face: 'balanced', limits: CHECK_IN },
    ],
    observe: observeIndicatorCheck,
    blank: {
      ...{ points: [], repeats: [], largestError: null, wholeRange: null, oneTurn: null, adjacent: null },
      ...{ hysteresis: null, repeatability: null, verdict: null, next: null },
    },
    otherUnit: [
      { kind: 'indicator-check', dial: 'inch-0.001-1', limits: CHECK_IN },
      { kind: 'indicator-check', dial: 'inch-0.001-1', limits: CHECK_MM },
    ],
  },
  'torque-adapter': {
    definitions: [
      { kind: 'torque-adapter' },
      { kind: 'torque-adapter', level: 3 },
      { kind: 'torque-adapter', level: 1 },
      {
        kind: 'torque-adapter',
        level: 3,
        scaleUnit: 'N-m',
        lengths: { unit: 'mm', wrench: 400, adapter: 60 },
        joints: [{ name: 'Clamp', wanted: 60, unit: 'N-m', angleDeg: 180, order: [2, 1, 3] }],
      },
    ],
    observe: observeTorque,
    blank: { joints: [] },
    otherUnit: [
      { kind: 'torque-adapter', scaleUnit: 'N-m', joints: [{ ...JOINT, wanted: 20, unit: 'lbf-ft' }] },
      { kind: 'torque-adapter', scaleUnit: 'N-m', joints: [{ ...JOINT, wanted: 240, unit: 'lbf-in' }] },
    ],
  },
  'dial-reading': {
    definitions: [
      { kind: 'dial-reading' },
      { kind: 'dial-reading', level: 1, unit: 'mm' },
      { kind: 'dial-reading', level: 3, drills: 20 },
      { kind: 'dial-reading', level: 3, dial: 'inch-0.001-0.25', face: 'balanced', drills: 1 },
    ],
    observe: observeDialReading,
    blank: { drills: [] },
    otherUnit: null,
  },
  'fault-finding': {
    definitions: [
      { kind: 'fault-finding', level: 1 },
      { kind: 'fault-finding' },
      { kind: 'fault-finding', level: 3 },
    ],
    observe: observeFault,
    blank: {
      ...{ fault: null, foundHigh: null, foundReturn: null, trueHigh: null },
      ...{ effectGraduations: null, next: null },
    },
    otherUnit: [
      { kind: 'fault-finding', specification: { unit: 'in', nominal: 0.25, lower: 0.246 } },
      { kind: 'fault-finding', specification: { unit: 'mm', nominal: 6.35, lower: 0.246 * 25.4 } },
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

/** Kinds with a part under the gauge, held against limits. */
type JudgedKind = Exclude<GaugedKind, 'dial-reading'>;
const NOT_JUDGED: readonly KindName[] = ['cam-lift', 'fault-finding', 'dial-reading'];
const JUDGED = KIND_NAMES.filter((kind) => !NOT_JUDGED.includes(kind));
const seeds = (count: number) => Array.from({ length: count }, (_, seed) => seed);

/** What is done with a gauge, whose pointer can be watched. */
type WithGauge = Exclude<KindName, 'torque-adapter'>;
const HAS_GAUGE = (kind: KindName): kind is WithGauge => kind !== 'torque-adapter';

/** A law of one kind, with the kind's name forgotten: what every kind takes and gives. */
interface AnyLaw {
  readonly definitions: readonly Parameters<typeof generateBench>[0][];
  readonly observe: (definition: Parameters<typeof generateBench>[0], seed: number) => AnyAttempt;
  readonly blank: AnySheet;
  readonly otherUnit:
    | readonly [Parameters<typeof generateBench>[0], Parameters<typeof generateBench>[0]]
    | null;
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

/** The dial that is looked at: drills have one each. */
function dialBefore(bench: BenchOf<WithGauge>, view: AnyView): Dial {
  if (!isKind(bench, 'dial-reading')) return bench.dial;
  const drill = isKind(view, 'dial-reading') ? bench.drills[view.drill - 1] : undefined;
  if (drill === undefined) throw new Error('A view of drills shows one of them.');
  return drill.dial;
}

const fold = (bench: AnyBench, actions: readonly AnyAction[]) =>
  actions.reduce((state, action) => act(bench, state, action).state, startBench(bench));

const garbage = fc.oneof(
  fc.anything(),
  fc.record({
    type: fc.constantFrom(
      ...['wipe', 'set-indicator', 'align', 'lift-tip', 'zero', 'clamp', 'unclamp', 'note', '__proto__'],
      ...['pry', 'turn', 'push', 'move', 'rock', 'hold', 'turn-to', 'place', 'press-liner', 'constructor'],
      ...['put', 'feel-temperature', 'let-cool', 'bar', 'rock-rocker', 'pump-up'],
      ...[
        'put-block',
        'let-down',
        'read-register',
        'take-wrench',
        'set-adapter',
        'set-wrench',
        'test-wrench',
      ],
      ...['grip', 'run-down', 'clean', 'pull', 'loosen', 'mark', 'back-off'],
      ...['watch', 'watch-back', 'go-to'],
      ...['try-stop', 'set-wheel'],
    ),
    turns: fc.oneof(fc.constant(0.5), fc.anything()),
    degrees: fc.oneof(fc.integer({ min: -400, max: 400 }), fc.anything()),
    way: fc.constantFrom('front', 'rear', 'up', 'down', 1, -1, 0, null),
    cylinder: fc.oneof(fc.integer({ min: 0, max: 7 }), fc.anything()),
    valve: fc.constantFrom('intake', 'exhaust', 'safety'),
    at: fc.constantFrom('pushrod', 'retainer', 'rocker', 'moon'),
    effort: fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.anything()),
    tooth: fc.oneof(fc.integer({ min: 0, max: 5 }), fc.anything()),
    liner: fc.oneof(fc.integer({ min: 0, max: 3 }), fc.anything()),
    point: fc.oneof(fc.integer({ min: 0, max: 5 }), fc.anything()),
    in: fc.constantFrom('ring', 'cylinder', 'pocket'),
    axis: fc.constantFrom('along', 'across', 'up'),
    depthMm: fc.oneof(fc.integer({ min: 0, max: 150 }), fc.anything()),
    on: fc.constantFrom('deck', 'liner', true, null),
    place: fc.constantFrom('rim', 'face', 'moon'),
    travel: fc.oneof(fc.double({ min: -1, max: 12, noNaN: true }), fc.anything()),
    how: fc.constantFrom('fast', 'slowly', 'sideways'),
    joint: fc.oneof(fc.integer({ min: 0, max: 3 }), fc.anything()),
    bolt: fc.oneof(fc.integer({ min: 0, max: 5 }), fc.anything()),
    wrench: fc.oneof(fc.integer({ min: 0, max: 3 }), fc.anything()),
    angleDeg: fc.oneof(fc.integer({ min: -400, max: 400 }), fc.anything()),
    setting: fc.oneof(fc.double({ min: 0, max: 60, noNaN: true }), fc.anything()),
    wiped: fc.constantFrom(true, false, 'yes'),
    speed: fc.oneof(fc.double({ min: -1, max: 6 }), fc.anything()),
    drill: fc.oneof(fc.integer({ min: 0, max: 6 }), fc.anything()),
    item: fc.anything(),
    box: fc.anything(),
  }),
) as fc.Arbitrary<AnyAction>;

/** A log that bars an engine round takes its time: fewer of them. */
const COUNTS: Readonly<Partial<Record<KindName, number>>> = {
  'cam-lift': 2,
  'fault-finding': 2,
  'valve-lift': 10,
  'lift-curve': 10,
};

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

  it.runIf(HAS_GAUGE(kind))(
    'shows a pointer that never jumps more than a quarter of a turn but where the bezel is turned',
    () => {
      for (const definition of law.definitions) {
        const { bench, actions } = law.observe(definition, 11) as unknown as {
          readonly bench: BenchOf<WithGauge>;
          readonly actions: readonly ActionOf<WithGauge>[];
        };
        let state = startBench(bench);
        let last = lookAt(bench, state).sample.pointer;
        for (const action of actions) {
          const { state: next, seen } = act(bench, state, action);
          const perTurn = graduationsPerTurn(dialBefore(bench, seen.now));
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
    },
  );

  it('gives a careful student who uses only what can be seen full points, and the true verdict', () => {
    for (const definition of law.definitions) {
      for (const seed of seeds(COUNTS[kind] ?? 40)) {
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

  it.skipIf(law.otherUnit === null)(
    'grades the same whichever unit the limits are told in',
    () => {
      for (const seed of seeds(Math.min(15, COUNTS[kind] ?? 15))) {
        const [one, other] = (law.otherUnit ?? []).map((definition) => {
          const { bench, actions, sheet } = law.observe(definition, seed);
          const { points, stops, remarks } = gradeAttempt(bench, actions, sheet);
          return { points, stops, remarks };
        });
        expect(other).toEqual(one);
      }
    },
    20_000,
  );

  it('never throws for an odd action, and stays to be looked at and graded', () => {
    const [definition] = law.definitions;
    if (definition === undefined) throw new Error('Each kind has a definition to test.');
    const { bench, actions } = law.observe(definition, 1);
    fc.assert(
      fc.property(fc.array(garbage, { maxLength: 25 }), (odd) => {
        const mixed = odd.flatMap((action, index) => [action, ...actions.slice(index, index + 1)]);
        const view = lookAt(bench, fold(bench, mixed));
        const seen = 'sample' in view ? [view.sample.pointer, view.sample.plungerMm] : [view.setting];
        expect(seen.every(Number.isFinite)).toBe(true);
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
