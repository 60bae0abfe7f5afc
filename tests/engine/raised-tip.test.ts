import { describe, expect, it } from 'vitest';
import { act, generateBench, lookAt, startBench } from '../../server/engine/index.ts';

/** Turns of the small hand away from where it stood before, at each moment of an action; never more than half its round. */
const moved = (before: number | null, counters: readonly (number | null)[]) =>
  counters.map((counter) => (((((counter ?? 0) - (before ?? 0) + 15) % 10) + 10) % 10) - 5);

describe('a tip that is raised and let down', () => {
  it('goes into its gauge and comes back, on the rod of an engine', () => {
    for (let seed = 0; seed < 12; seed += 1) {
      const bench = generateBench({ kind: 'cam-lift', level: 1 }, seed);
      let state = startBench(bench);
      for (const action of [
        { type: 'move', position: bench.positions[0] ?? 1 },
        { type: 'seat' },
        { type: 'preload', turns: 1 },
      ] as const)
        state = act(bench, state, action).state;
      const before = lookAt(bench, state).sample.counter;
      const { samples } = act(bench, state, { type: 'lift-tip' }).seen;
      const turns = moved(
        before,
        samples.map(({ counter }) => counter),
      );
      expect(Math.max(...turns)).toBeCloseTo(1.2, 1);
      expect(Math.min(...turns)).toBeGreaterThan(-0.05);
      expect(Math.abs(turns.at(-1) ?? 1)).toBeLessThan(0.01);
    }
  });

  it('goes no further than the travel', () => {
    const bench = generateBench({ kind: 'cam-lift', level: 1, dial: 'inch-0.001-0.25' }, 3);
    let state = startBench(bench);
    for (const action of [
      { type: 'move', position: bench.positions[0] ?? 1 },
      { type: 'seat' },
      { type: 'preload', turns: 2 },
    ] as const)
      state = act(bench, state, action).state;
    const { samples } = act(bench, state, { type: 'lift-tip' }).seen;
    expect(Math.max(...samples.map(({ plungerMm }) => plungerMm))).toBeLessThanOrEqual(0.25 * 25.4 + 0.11);
  });

  it('goes into its gauge on a shaft as well', () => {
    const bench = generateBench({ kind: 'end-play', level: 1 }, 5);
    let state = startBench(bench);
    state = act(bench, state, { type: 'set-indicator', turns: 1 }).state;
    const before = lookAt(bench, state).sample.counter;
    const { samples } = act(bench, state, { type: 'lift-tip' }).seen;
    const turns = moved(
      before,
      samples.map(({ counter }) => counter),
    );
    expect(Math.max(...turns)).toBeCloseTo(1, 1);
    expect(Math.min(...turns)).toBeGreaterThan(-0.05);
  });
});
