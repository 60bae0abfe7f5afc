import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  act,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftSheet,
  generateBench,
  gradeAttempt,
  lookAt,
  startBench,
} from '../../server/engine/index.ts';
import { anyDefinition, anyLog, anySeed } from '../support/arbitraries/cam-lift.ts';
import { LAW } from '../support/arbitraries/settings.ts';
import { observe } from '../support/observer.ts';

function fold(bench: CamLiftBench, actions: readonly CamLiftAction[]) {
  return actions.reduce((state, action) => act(bench, state, action).state, startBench(bench));
}

function freezeDeeply<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(freezeDeeply);
  }
  return value;
}

const BLANK: CamLiftSheet = { lobes: [] };

describe('an attempt is a pure function of definition, seed, actions and sheet', () => {
  it('gives the same bench, the same state and the same grade every time', () => {
    fc.assert(
      fc.property(anyDefinition, anySeed, anyLog, (definition, seed, log) => {
        const [one, other] = [generateBench(definition, seed), generateBench(definition, seed)];
        expect(JSON.stringify(other)).toBe(JSON.stringify(one));
        expect(JSON.stringify(fold(other, log))).toBe(JSON.stringify(fold(one, log)));
        expect(JSON.stringify(gradeAttempt(other, log, BLANK))).toBe(
          JSON.stringify(gradeAttempt(one, log, BLANK)),
        );
      }),
      LAW,
    );
  });

  it('gives a different engine for a different seed', () => {
    const benches = Array.from({ length: 50 }, (_, seed) =>
      JSON.stringify(generateBench({ kind: 'cam-lift' }, seed)),
    );
    expect(new Set(benches.map((text) => text.replace(/"seed":"\d+"/, ''))).size).toBe(50);
  });

  it('takes the number 7 and the text "7" for the same seed', () => {
    expect(generateBench({ kind: 'cam-lift' }, 7)).toEqual(generateBench({ kind: 'cam-lift' }, '7'));
  });

  it('changes nothing it was given', () => {
    fc.assert(
      fc.property(anyDefinition, anySeed, anyLog, (definition, seed, log) => {
        const bench = freezeDeeply(generateBench(freezeDeeply(definition), seed));
        freezeDeeply(log).reduce(
          (state, action) => freezeDeeply(act(bench, state, action)).state,
          freezeDeeply(startBench(bench)),
        );
        gradeAttempt(bench, log, freezeDeeply({ ...BLANK }));
      }),
      LAW,
    );
  });

  it('grades a frozen, finished attempt without touching it', () => {
    const { bench, actions, sheet } = freezeDeeply(observe({ kind: 'cam-lift' }, 1));
    expect(gradeAttempt(bench, actions, sheet).total).toBe(100);
  });
});

/** Things a page gone wrong, or somebody curious, may send instead of an action. */
const garbage = fc.oneof(
  fc.anything(),
  fc.record({
    type: fc.constantFrom('bar', 'move', 'preload', 'note', 'zero', 'fly', '__proto__'),
    degrees: fc.anything(),
  }),
  fc.record({ type: fc.constant('bar'), degrees: fc.anything(), speed: fc.anything(), hold: fc.anything() }),
  fc.record({ type: fc.constant('move'), position: fc.anything() }),
  fc.record({ type: fc.constant('preload'), turns: fc.anything() }),
  fc.record({
    type: fc.constant('note'),
    position: fc.anything(),
    reading: fc.anything(),
    box: fc.anything(),
  }),
) as fc.Arbitrary<CamLiftAction>;

describe('odd actions', () => {
  it('never throw, and never leave a state that cannot be looked at or graded', () => {
    fc.assert(
      fc.property(
        anyDefinition,
        anySeed,
        anyLog,
        fc.array(garbage, { maxLength: 20 }),
        (definition, seed, log, odd) => {
          const bench = generateBench(definition, seed);
          const mixed = log.flatMap((action, index) => [action, ...odd.slice(index, index + 1)]);
          const state = fold(bench, mixed);
          const { sample } = lookAt(bench, state);
          expect(
            [sample.crankDeg, sample.pointer, sample.effort, sample.plungerMm].every(Number.isFinite),
          ).toBe(true);
          expect(Number.isFinite(gradeAttempt(bench, mixed, BLANK).total)).toBe(true);
        },
      ),
      { ...LAW, numRuns: 200 },
    );
  });

  it.each([
    ['null', null],
    ['a text', 'bar'],
    ['a kind nobody knows', { type: 'fly' }],
    ['a note for no box', { type: 'note', position: 1, reading: 1, box: 'colour' }],
    ['a note for a third reading', { type: 'note', position: 1, reading: 3, box: 'lift' }],
  ])('say that they cannot be done: %s', (_, action) => {
    const bench = generateBench({ kind: 'cam-lift' }, 1);
    const { seen } = act(bench, startBench(bench), action as CamLiftAction);
    expect(seen.said).toEqual([{ code: 'cannot', why: 'unknown-action' }]);
  });

  it.each([
    ['a position as a text', { type: 'move', position: '1' }, 'no-such-position'],
    ['a position that is not there', { type: 'move', position: 7 }, 'no-such-position'],
    ['half a position', { type: 'move', position: 1.5 }, 'no-such-position'],
    ['degrees that are not a number', { type: 'bar', degrees: Number.NaN }, 'not-a-number'],
    ['an endless bar', { type: 'bar', degrees: Number.POSITIVE_INFINITY }, 'not-a-number'],
    ['more than two cycles at once', { type: 'bar', degrees: 1441 }, 'too-far'],
    ['no speed', { type: 'bar', degrees: 10, speed: 0 }, 'not-a-number'],
    ['a negative hold', { type: 'bar', degrees: 10, hold: -1 }, 'not-a-number'],
    ['seating with no position chosen', { type: 'seat' }, 'choose-a-position'],
    ['pressing with no tappet in', { type: 'press' }, 'tappet-is-out'],
    ['zeroing with no indicator on', { type: 'zero' }, 'indicator-is-off'],
  ])('leave the bench as it was and say why: %s', (_, action, why) => {
    const bench = generateBench({ kind: 'cam-lift' }, 1);
    const start = startBench(bench);
    const { state, seen } = act(bench, start, action as CamLiftAction);
    expect(seen.said).toEqual([{ code: 'cannot', why }]);
    expect(state).toEqual({ ...start, actions: 1 });
  });
});
