import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { foldLog, runsOf } from '../../server/engine/exercises/cam-lift/history.ts';
import { passesOf } from '../../server/engine/exercises/cam-lift/passes.ts';
import type { CamLiftAction, CamLiftDefinition } from '../../server/engine/exercises/cam-lift/types.ts';
import { generateBench } from '../../server/engine/index.ts';
import { SLOW_LAW } from '../support/arbitraries/settings.ts';
import { observe } from '../support/observer.ts';

const DEFINITIONS: readonly CamLiftDefinition[] = [
  { kind: 'cam-lift' },
  { kind: 'cam-lift', rollerVerdict: true, dial: 'metric-0.01-10' },
  { kind: 'cam-lift', level: 3, chooseRod: true },
];

/** Odd pulls on one lobe, whatever the set-up: also those that lose the zero, leave the work or hit the end of the travel. */
const pulls = fc.array(
  fc.oneof(
    fc.record({
      type: fc.constant('bar' as const),
      degrees: fc.double({ min: -200, max: 400, noNaN: true }),
      speed: fc.constantFrom(6, 20, 60),
    }),
    fc.record({
      type: fc.constant('bar' as const),
      degrees: fc.integer({ min: -90, max: 90 }),
      hold: fc.constantFrom(0, 1, 5),
    }),
    fc.constantFrom<CamLiftAction>(
      { type: 'press' },
      { type: 'zero' },
      { type: 'clamp' },
      { type: 'lift-tip' },
    ),
  ),
  { minLength: 1, maxLength: 12 },
);

describe('a log folded for its grade', () => {
  it('leaves the bench as the student left it, to the last digit', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DEFINITIONS),
        fc.integer({ min: 0, max: 500 }),
        fc.constantFrom(0, 0.2, 0.5, 6.5, 9.8),
        pulls,
        (definition, seed, turns, own) => {
          const bench = generateBench(definition, seed);
          const position = bench.positions[0] ?? 1;
          const actions: CamLiftAction[] = [
            { type: 'choose-rod', rod: 1 },
            { type: 'move', position },
            { type: 'seat' },
            { type: 'preload', turns },
            { type: 'zero' },
            ...own,
          ];
          const seen = foldLog(bench, actions, 'every-degree');
          const graded = foldLog(bench, actions);
          expect(graded.map(({ step }) => step.state)).toEqual(seen.map(({ step }) => step.state));
          expect(graded.map(({ step }) => step.said)).toEqual(seen.map(({ step }) => step.said));
        },
      ),
      SLOW_LAW,
    );
  });

  it('shows each pass with its highest reading, its return and its base circle, in a third of the moments', () => {
    let [few, all, passes] = [0, 0, 0];
    for (const definition of DEFINITIONS) {
      for (let seed = 0; seed < 12; seed += 1) {
        const { bench, actions } = observe(definition, `detail-${seed}`);
        const [graded, seen] = (['what-counts', 'every-degree'] as const).map((detail) => {
          const runs = runsOf(foldLog(bench, actions, detail));
          const points = runs.reduce((sum, run) => sum + run.points.length, 0);
          return { points, passes: runs.flatMap((run) => passesOf(bench, run)) };
        });
        few += graded?.points ?? 0;
        all += seen?.points ?? 0;
        expect(graded?.passes.length).toBe(seen?.passes.length);
        for (const [index, pass] of (graded?.passes ?? []).entries()) {
          const full = seen?.passes[index];
          passes += 1;
          expect(pass.high).toBe(full?.high);
          expect(pass.keyHigh).toBe(full?.keyHigh);
          expect(pass.reachedNose).toBe(full?.reachedNose);
          // Before the next rise up to 15° of it may go unseen; before the end of a pull, none.
          expect(Math.abs(pass.baseAfterDeg - (full?.baseAfterDeg ?? Number.NaN))).toBeLessThan(15);
          expect(Math.abs((pass.returned?.low ?? 0) - (full?.returned?.low ?? 0))).toBeLessThan(0.15);
          // How far up the next ramp still counts as base circle nobody asks; whether the pointer stayed below zero is asked.
          const below = (high: number | undefined) => Math.min(0, high ?? 0);
          expect(Math.abs(below(pass.returned?.high) - below(full?.returned?.high))).toBeLessThan(0.15);
        }
      }
    }
    expect(passes).toBeGreaterThan(100);
    expect(few / all).toBeLessThan(0.45);
  });
});
