import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import {
  type ActionOf,
  type AnyAction,
  type AnyBench,
  type AnyView,
  act,
  type BenchOf,
  type Dial,
  generateBench,
  gradeAttempt,
  graduationsPerTurn,
  isKind,
  KIND_NAMES,
  type KindName,
  lookAt,
  startBench,
} from '../../server/engine/index.ts';
import { SLOW_LAW } from '../support/arbitraries/settings.ts';
import { HAS_GAUGE, lawOf, seeds, type WithGauge } from '../support/kind-laws.ts';

// Whole logs of every kind are folded, some of them a degree at a time.
vi.setConfig({ testTimeout: 30_000 });

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
