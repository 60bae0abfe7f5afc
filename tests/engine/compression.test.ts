import { describe, expect, it } from 'vitest';
import { camInCrankDeg } from '../../server/engine/drive/backlash.ts';
import {
  effortToBar,
  FRICTION,
  gasPush,
  isStiff,
  leakedCharge,
  runsBy,
} from '../../server/engine/drive/effort.ts';
import {
  act,
  type CamLiftAction,
  type CamLiftSeen,
  generateBench,
  startBench,
} from '../../server/engine/index.ts';

/** Bars on from firing TDC of cylinder 1 at 0, wherever the engine was left. */
function fromTdc(cylinders: 4 | 6, ...actions: CamLiftAction[]): CamLiftSeen[] {
  const bench = generateBench({ kind: 'cam-lift', cylinders }, 'compression');
  const toTdc: CamLiftAction = { type: 'bar', degrees: 720 - (bench.startCrankDeg % 720), speed: 60 };
  let state = startBench(bench);
  return [toTdc, ...actions]
    .map((action) => {
      const result = act(bench, state, action);
      state = result.state;
      return result.seen;
    })
    .slice(1);
}

const effortsOf = (seen: CamLiftSeen | undefined) => seen?.samples.map(({ effort }) => effort) ?? [];
const crankOf = (seen: CamLiftSeen | undefined) => seen?.now.sample.crankDeg ?? Number.NaN;
const saidBy = (seen: CamLiftSeen | undefined) => seen?.said.map(({ code }) => code) ?? [];

describe('effort on the bar', () => {
  it.each([
    [4, 4],
    [6, 6],
  ] as const)('an inline %i is stiff %i times in 720°, each time before a firing TDC', (cylinders, humps) => {
    const efforts = effortsOf(fromTdc(cylinders, { type: 'bar', degrees: 720, speed: 60 })[0]);
    const peaks = efforts.flatMap((effort, deg) =>
      effort > 0.6 && (efforts[deg - 1] ?? 1) <= 0.6 ? [deg] : [],
    );
    expect(peaks).toHaveLength(humps);
    const spacing = 720 / cylinders;
    for (const peak of peaks) {
      const before = spacing - (peak % spacing);
      expect(before).toBeGreaterThan(5);
      expect(before).toBeLessThan(60);
    }
  });

  it('never jumps: from one degree to the next it changes by a sixteenth of all effort at most', () => {
    for (const cylinders of [4, 6] as const) {
      const efforts = effortsOf(fromTdc(cylinders, { type: 'bar', degrees: 1440, speed: 60 })[0]);
      const jumps = efforts.slice(1).map((effort, deg) => Math.abs(effort - (efforts[deg] ?? 0)));
      expect(Math.max(...jumps)).toBeLessThan(0.06);
    }
  });

  it('is as stiff the second time round: each cylinder draws fresh air', () => {
    // Half a degree off, so that no sample falls just where one cylinder takes over from the other.
    const [, seen] = fromTdc(6, { type: 'bar', degrees: 0.5 }, { type: 'bar', degrees: 1440, speed: 6 });
    const efforts = effortsOf(seen);
    const most = (from: number) => Math.max(...efforts.slice(from, from + 120));
    expect(most(0)).toBeGreaterThan(0.3);
    for (let from = 120; from < 1320; from += 120) expect(most(from)).toBeCloseTo(most(0), 2);
  });

  it('is felt going backward too, on the other side of top dead centre', () => {
    const [, back] = fromTdc(
      6,
      { type: 'bar', degrees: 55, speed: 60 },
      { type: 'bar', degrees: -50, speed: 60 },
    );
    expect(saidBy(back)).toContain('compression');
  });
});

describe('letting go', () => {
  const toHump: CamLiftAction = { type: 'bar', degrees: 94, speed: 60 };

  it('in the hump the engine rolls back 5 to 30°', () => {
    for (let deg = 82; deg <= 112; deg += 2) {
      const [seen] = fromTdc(6, { type: 'bar', degrees: deg, speed: 60, hold: 0 });
      expect(saidBy(seen)).toContain('rolled-back');
      const rolled = deg - crankOf(seen);
      expect(rolled).toBeGreaterThanOrEqual(5);
      expect(rolled).toBeLessThanOrEqual(30.1);
    }
  });

  it('past it the engine runs on', () => {
    const [seen] = fromTdc(6, { type: 'bar', degrees: 135, speed: 60, hold: 0 });
    expect(saidBy(seen)).toContain('ran-on');
    expect(crankOf(seen)).toBeGreaterThan(139);
    expect(crankOf(seen)).toBeLessThan(166);
  });

  it('held until the gas has leaked away, it stays', () => {
    const [seen] = fromTdc(6, { ...toHump, hold: 10 });
    expect(saidBy(seen)).toEqual(['compression', 'let-go']);
    expect(crankOf(seen)).toBe(94);
  });

  it('with a hand still on the bar nothing moves, and it is felt', () => {
    const [seen] = fromTdc(6, toHump);
    expect(crankOf(seen)).toBe(94);
    expect(seen?.now.sample.effort).toBeGreaterThan(0.4);
  });

  it('let go and still, nothing is felt', () => {
    const [seen] = fromTdc(6, { ...toHump, hold: 0 });
    expect(seen?.now.sample.effort).toBe(0);
  });

  it('where no cylinder is near top dead centre it stays', () => {
    const [seen] = fromTdc(4, { type: 'bar', degrees: 90, speed: 60, hold: 0 });
    expect(saidBy(seen)).toEqual(['let-go']);
    expect(crankOf(seen)).toBe(90);
  });
});

describe('the gas', () => {
  const compression = { everyDeg: 120, leakSeconds: 1.5 };

  it('leaks off in 2 to 5 s in the middle of the hump: under friction by then', () => {
    const left = (seconds: number) => leakedCharge(compression, 100, 100, 1, seconds);
    expect(runsBy(compression, 100, left(0))).toBeLessThan(0);
    expect(runsBy(compression, 100, left(5))).toBe(0);
    expect(left(2)).toBeLessThan(left(1));
  });

  it('pushes back before top dead centre, on after it, not at all on it', () => {
    expect(gasPush(compression, 100, 1)).toBeLessThan(0);
    expect(gasPush(compression, 140, 1)).toBeGreaterThan(0);
    expect(Math.abs(gasPush(compression, 120, 1))).toBe(0);
  });

  it('pushes most a third of the way out, alike on both sides, and not where no cylinder is near', () => {
    // Windows of 60° either way: cylinders 120° apart leave no more.
    const most = gasPush(compression, 140, 1);
    expect(most).toBeCloseTo(0.7, 12);
    for (const deg of [125, 135, 145, 160]) {
      expect(gasPush(compression, deg, 1)).toBeLessThan(most);
      expect(gasPush(compression, 240 - deg, 1)).toBeCloseTo(-gasPush(compression, deg, 1), 12);
    }
    expect(gasPush(compression, 140, 0.5)).toBeCloseTo(most / 2, 12);
    // Cylinders 180° apart: a window of 75°, and nothing outside it.
    const four = { everyDeg: 180, leakSeconds: 1.5 };
    expect(Math.abs(gasPush(four, 75, 1))).toBe(0);
    expect(gasPush(four, 74, 1)).toBeGreaterThan(0);
    expect(gasPush(four, 25, 1)).toBeCloseTo(0.7, 12);
  });

  it('leaks the faster the tighter it is, and is whole again where fresh air comes in', () => {
    // Nearness 1 at top dead centre, squared and doubled: e² in the time told.
    expect(leakedCharge(compression, 120, 120, 0.8, 1.5)).toBeCloseTo(0.8 * Math.exp(-2), 12);
    expect(leakedCharge(compression, 90, 90, 1, 1.5)).toBeCloseTo(Math.exp(-0.5), 12);
    expect(leakedCharge(compression, 60, 60, 0.3, 1)).toBe(1);
    expect(leakedCharge(compression, 179, 181, 0.3, 0)).toBe(1);
    expect(leakedCharge(compression, 178, 179, 0.3, 0)).toBe(0.3);
  });

  it('is added to friction where it pushes against the bar, and taken off where it helps', () => {
    expect(effortToBar(compression, 100, 1, 1)).toBeCloseTo(FRICTION + 0.7, 12);
    expect(effortToBar(compression, 100, 1, -1)).toBe(0);
    expect(effortToBar(compression, 140, 0.2, 1)).toBeCloseTo(FRICTION - 0.14, 12);
    expect(effortToBar(compression, 60, 1, 1)).toBe(FRICTION);
  });

  it('runs the engine by 5° where it only just beats friction and by 30° at its most', () => {
    expect(runsBy(compression, 140, 1)).toBeCloseTo(30, 9);
    expect(runsBy(compression, 100, 1)).toBeCloseTo(-30, 9);
    expect(runsBy(compression, 140, FRICTION / 0.7 - 1e-6)).toBe(0);
    expect(runsBy(compression, 140, FRICTION / 0.7 + 1e-6)).toBeCloseTo(5, 3);
  });

  it('is felt as compression from a push of 0.15 against the bar', () => {
    expect(isStiff(compression, 100, 0.15 / 0.7 + 1e-6, 1)).toBe(true);
    expect(isStiff(compression, 100, 0.15 / 0.7 - 1e-6, 1)).toBe(false);
    expect(isStiff(compression, 100, 1, -1)).toBe(false);
    expect(isStiff(compression, 140, 1, -1)).toBe(true);
  });
});

describe('backlash', () => {
  it('lets the cam follow the crank forward, and lag by all of it backward', () => {
    expect(camInCrankDeg(10, 12, 0.5)).toBe(12);
    expect(camInCrankDeg(12, 11.8, 0.5)).toBe(12);
    expect(camInCrankDeg(12, 11, 0.5)).toBe(11.5);
    expect(camInCrankDeg(11.5, 11.2, 0.5)).toBe(11.5);
  });
});
