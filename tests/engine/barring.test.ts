import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  act,
  type CamLiftAction,
  generateBench,
  graduationsPerTurn,
  type Sample,
  startBench,
} from '../../server/engine/index.ts';
import { anyDefinition, anyLog, anySeed } from '../support/arbitraries/cam-lift.ts';
import { LAW, SLOW_LAW } from '../support/arbitraries/settings.ts';
import {
  bars,
  goodParts,
  logOf,
  type Part,
  POSITION,
  plainBench,
  pointerAfter,
  stateAfter,
  stepThrough,
} from './support/bench.ts';

/** Difference of two places on a round of `whole`, the short way. */
function apart(a: number, b: number, whole: number): number {
  const around = Math.abs(a - b) % whole;
  return Math.min(around, whole - around);
}

describe('what is seen while the engine is barred', () => {
  it('comes at most a degree of crank and a quarter turn of the pointer apart, pressing, setting and lifting included', () => {
    fc.assert(
      fc.property(anyDefinition, anySeed, anyLog, (definition, seed, log) => {
        const bench = generateBench(definition, seed);
        const perTurn = graduationsPerTurn(bench.dial);
        let state = startBench(bench);
        let last: Sample | null = null;
        for (const action of log) {
          const { state: next, seen } = act(bench, state, action);
          // Seating, turning the tappet or another position takes the indicator off; turning the bezel moves the face.
          if (['move', 'seat', 'turn-tappet', 'zero'].includes(action.type)) last = null;
          for (const sample of seen.samples) {
            if (last !== null) {
              expect(apart(sample.crankDeg, last.crankDeg, 360)).toBeLessThanOrEqual(1.11);
              expect(apart(sample.pointer, last.pointer, perTurn)).toBeLessThanOrEqual(perTurn / 4);
            }
            last = sample;
          }
          state = next;
        }
      }),
      LAW,
    );
  });

  it('keeps the pointer in 0 to n and shows no more than a hundredth of a graduation', () => {
    fc.assert(
      fc.property(anyDefinition, anySeed, anyLog, (definition, seed, log) => {
        const bench = generateBench(definition, seed);
        let state = startBench(bench);
        for (const action of log) {
          const result = act(bench, state, action);
          state = result.state;
          for (const { pointer, effort, counter } of result.seen.samples) {
            expect(pointer).toBeGreaterThanOrEqual(0);
            expect(pointer).toBeLessThan(graduationsPerTurn(bench.dial));
            expect(Math.abs(pointer * 100 - Math.round(pointer * 100))).toBeLessThan(1e-6);
            expect(effort).toBeGreaterThanOrEqual(0);
            expect(effort).toBeLessThanOrEqual(1);
            expect(counter).toBeGreaterThanOrEqual(0);
            expect(counter).toBeLessThan(10);
          }
        }
      }),
      LAW,
    );
  });

  it('holds nothing hidden', () => {
    const bench = plainBench({ tappet: { fault: 'sticky', sticksMm: 3 } });
    let state = startBench(bench);
    for (const action of logOf(bench)) {
      const { state: next, seen } = act(bench, state, action);
      state = next;
      expect(Object.keys(seen.now).sort()).toEqual(
        [
          'barredDeg',
          'clamped',
          'faceTurn',
          'gauge',
          'indicator',
          'kind',
          'position',
          'rod',
          'roller',
          'sample',
          'tally',
          'tappet',
          'zeroed',
        ].sort(),
      );
      expect(JSON.stringify(seen)).not.toMatch(/sticky|plain|seed|lobe|hung|camMm|sound|worn/);
    }
  });
});

describe('720° forward', () => {
  const aboard = (bench: ReturnType<typeof plainBench>, ...parts: Part[]): CamLiftAction[] =>
    parts.flatMap((part) => goodParts(bench)[part]);
  const SET_UP: Part[] = ['seat', 'toBase', 'preload', 'zero', 'clamp'];

  it('comes home within half a graduation', () => {
    fc.assert(
      fc.property(anySeed, (seed) => {
        const bench = plainBench({ condition: { runOutMm: 0.02, runOutPhaseCamDeg: seed % 360 } }, {}, seed);
        expect(Math.abs(pointerAfter(bench, aboard(bench, ...SET_UP, 'first')))).toBeLessThanOrEqual(0.5);
      }),
      SLOW_LAW,
    );
  });

  it('gives the same highest reading in steps of any size', () => {
    const bench = plainBench();
    const highs = [1, 7, 60, 720].map((step) => {
      const { steps } = stepThrough(bench, [...aboard(bench, ...SET_UP), ...bars(720, step)]);
      return Math.max(...steps.flatMap(({ moments }) => moments.map(({ graduations }) => graduations)));
    });
    for (const high of highs) expect(high).toBeCloseTo(highs[0] ?? 0, 1);
  });

  it('reads the lift of the lobe, to the scatter of a set-up', () => {
    fc.assert(
      fc.property(anySeed, fc.integer({ min: 205, max: 290 }), (seed, thousandths) => {
        const bench = plainBench({ liftIn: thousandths / 1000 }, {}, seed);
        const { steps } = stepThrough(bench, aboard(bench, ...SET_UP, 'first'));
        const high = Math.max(
          ...steps.slice(-12).flatMap(({ moments }) => moments.map(({ graduations }) => graduations)),
        );
        // Set-up scatter is cut at 1.0 graduation and that of a pass at 0.5, on a nominal lift of 237 of them.
        expect(Math.abs(high - thousandths)).toBeLessThanOrEqual((1.5 * thousandths) / 237 + 0.05);
      }),
      LAW,
    );
  });

  it('never reads less for more lift, all else alike', () => {
    const highOf = (liftIn: number) => {
      const bench = plainBench({ liftIn });
      const { steps } = stepThrough(bench, aboard(bench, ...SET_UP, 'first'));
      return Math.max(
        ...steps.slice(-12).flatMap(({ moments }) => moments.map(({ graduations }) => graduations)),
      );
    };
    const highs = [0.14, 0.2, 0.2005, 0.237, 0.26, 0.3].map(highOf);
    expect(highs).toEqual([...highs].sort((a, b) => a - b));
  });
});

describe('backlash', () => {
  it('leaves heights alone and moves the crank angle at which they are read, by no more than itself', () => {
    fc.assert(
      fc.property(anySeed, fc.integer({ min: 30, max: 700 }), (seed, stop) => {
        const bench = plainBench({}, {}, seed);
        const start = logOf(bench, { first: [], firstPress: [], second: [], secondPress: [] });
        const forward = stepThrough(bench, [...start, ...bars(stop), ...bars(20, 1)])
          .steps.at(-1)
          ?.moments.at(-1);
        const back = stepThrough(bench, [...start, ...bars(stop + 60), ...bars(-40, 1)])
          .steps.at(-1)
          ?.moments.at(-1);
        expect(back?.crankDeg).toBeCloseTo(forward?.crankDeg ?? 0, 6);
        expect((back?.camCrankDeg ?? 0) - (forward?.camCrankDeg ?? 0)).toBeCloseTo(bench.backlashDeg, 6);
        // Taken up again by coming forward: same place, same height.
        const again = stepThrough(bench, [...start, ...bars(stop + 60), ...bars(-60, 1), ...bars(20, 1)])
          .steps.at(-1)
          ?.moments.at(-1);
        expect(again?.graduations).toBeCloseTo(forward?.graduations ?? 0, 6);
      }),
      SLOW_LAW,
    );
  });

  it('lets the crank rock by less than itself without moving the cam', () => {
    const bench = plainBench();
    const { state } = stepThrough(bench, [
      ...logOf(bench),
      { type: 'bar', degrees: -bench.backlashDeg * 0.9 },
    ]);
    expect(state.camCrankDeg).toBeCloseTo(state.crankDeg + bench.backlashDeg * 0.9, 9);
  });

  it('shows the same high point barring backward', () => {
    const bench = plainBench();
    const start = logOf(bench, { first: [], firstPress: [], second: [], secondPress: [] });
    const highOf = (degrees: number) =>
      Math.max(
        ...stepThrough(bench, [...start, ...bars(degrees, 30)])
          .steps.slice(start.length)
          .flatMap(({ moments }) => moments.map(({ graduations }) => graduations)),
      );
    // Another pass of the cam scatters by itself, at most half a graduation each way.
    expect(Math.abs(highOf(720) - highOf(-720))).toBeLessThanOrEqual(1);
  });
});

describe('the ends of the travel', () => {
  const short = (preloadTurns: number) => {
    const bench = plainBench({}, { dial: 'inch-0.0005-0.5' });
    return {
      bench,
      parts: { preload: [{ type: 'preload' as const, turns: preloadTurns }], second: [], secondPress: [] },
    };
  };

  it('overrun by d, the return reads −d', () => {
    const { bench, parts } = short(6);
    const log = logOf(bench, parts);
    const zeroed = stateAfter(bench, logOf(bench, { ...parts, first: [], firstPress: [] }));
    const { steps } = stepThrough(bench, log);
    const graduationMm = 0.0005 * 25.4;
    const freeMm = (zeroed.indicator?.standMm ?? 0) + 0.237 * 25.4;
    const overrun = (freeMm - 0.5 * 25.4) / graduationMm;
    expect(overrun).toBeGreaterThan(10);
    expect(pointerAfter(bench, log)).toBeCloseTo(-overrun, -1);
    expect(steps.flatMap(({ said }) => said.map(({ code }) => code))).toContain('hard-stop');
  });

  it('stops dead at the top and goes no further', () => {
    const { bench, parts } = short(6);
    const { steps } = stepThrough(bench, logOf(bench, parts));
    const deepest = Math.max(...steps.flatMap(({ moments }) => moments.map(({ plungerMm }) => plungerMm)));
    expect(deepest).toBeCloseTo(0.5 * 25.4, 9);
  });

  it('never returns below minus the preload', () => {
    const { bench, parts } = short(9);
    const zeroed = stateAfter(bench, logOf(bench, { ...parts, first: [], firstPress: [] }));
    const preloadGraduations = (zeroed.indicator?.standMm ?? 0) / (0.0005 * 25.4);
    expect(pointerAfter(bench, logOf(bench, parts))).toBeGreaterThanOrEqual(-preloadGraduations - 1e-6);
  });

  it('set down on the nose, the tip leaves the work and the pointer stands still', () => {
    const bench = plainBench();
    const toNose = bars(
      (((bench.lobes[POSITION - 1]?.lobe.noseCrankDeg ?? 0) - bench.startCrankDeg) % 720) + 720,
    );
    const { steps } = stepThrough(bench, [...logOf(bench, { toBase: toNose, first: bars(360), second: [] })]);
    expect(steps.flatMap(({ said }) => said.map(({ code }) => code))).toContain('tip-off-the-work');
  });
});

describe('the bezel', () => {
  const touched = (clamp: CamLiftAction[]) => (seed: number) => {
    const bench = plainBench({}, {}, seed);
    return Math.abs(pointerAfter(bench, logOf(bench, { clamp })));
  };
  const seeds = Array.from({ length: 20 }, (_, seed) => seed);

  it('moves when it is not clamped', () => {
    expect(seeds.map(touched([])).filter((off) => off > 0.8).length).toBeGreaterThan(10);
  });

  it('stays when it is', () => {
    expect(Math.max(...seeds.map(touched([{ type: 'clamp' }])))).toBeLessThanOrEqual(0.5);
  });

  it('cannot be turned while it is clamped', () => {
    const bench = plainBench();
    expect(stepThrough(bench, [...logOf(bench), { type: 'zero' }]).steps.at(-1)?.said).toEqual([
      { code: 'cannot', why: 'bezel-is-clamped' },
    ]);
  });

  it('turns the face alone: the small hand stays where it was', () => {
    const bench = plainBench();
    const [before, after] = [['preload'], ['preload', 'zero']].map((parts) =>
      stepThrough(
        bench,
        ['seat', 'toBase', ...parts].flatMap((part) => goodParts(bench)[part as Part]),
      )
        .steps.at(-1)
        ?.moments.at(-1),
    );
    expect(after?.graduations).toBeCloseTo(0, 9);
    expect(after?.counterTurns).toBe(before?.counterTurns);
    // Half a turn in from nine o'clock: the small hand does not start at zero.
    expect(Math.abs((after?.counterTurns ?? 0) - 0.25)).toBeLessThan(0.07);
  });
});
