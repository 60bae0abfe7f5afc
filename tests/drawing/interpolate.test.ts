import { describe, expect, it } from 'vitest';
import {
  type DialSample,
  sampleAt,
  shortWay,
  steppedFraction,
  unwrapRun,
} from '../../views/client/models/interpolate.ts';

function sample(deg: number, pointer: number, counter: number | null = null, plungerMm = 0): DialSample {
  return { deg, pointer, counter, plungerMm, effort: 0 };
}

describe('the short way round', () => {
  it.each([
    [95, 5, 100, 10],
    [5, 95, 100, -10],
    [0, 50, 100, 50],
    [350, 10, 360, 20],
    [3, 3, 100, 0],
  ])('from %d to %d of %d is %d', (from, to, turn, way) => expect(shortWay(from, to, turn)).toBe(way));
});

describe('a run', () => {
  // Two turns and 14 in quarter turns, then a quarter back.
  const travelled = [0, 25, 50, 75, 100, 125, 150, 175, 200, 214, 189];
  const samples = travelled.map((graduations, index) =>
    sample((300 + index * 10) % 360, graduations % 100, (1.3 + graduations / 100) % 10),
  );
  const run = unwrapRun(samples, 100, 10);

  it('is counted on over whole turns, and back', () => {
    expect(run.samples.map((each) => each.pointer)).toEqual(travelled);
    expect(run.samples.at(-1)?.counter).toBeCloseTo(3.19, 9);
    expect(run.samples.at(-1)?.deg).toBe(400);
  });

  it('is counted down over zero', () => {
    const down = unwrapRun([sample(0, 10, 0.2), sample(5, 90, 9.9)], 100, 10);
    expect(down.samples[1]?.pointer).toBe(-10);
    expect(down.samples[1]?.counter).toBeCloseTo(-0.1, 9);
  });

  it('goes at a steady crank speed', () => {
    expect(run.due).toEqual(travelled.map((_, index) => index / 10));
    const uneven = unwrapRun([sample(0, 0), sample(1, 5), sample(10, 10)], 100, 10);
    expect(uneven.due).toEqual([0, 0.1, 1]);
    expect(sampleAt(uneven, 0.55)?.deg).toBeCloseTo(5.5, 9);
  });

  it('begins and ends where it should', () => {
    expect(sampleAt(run, 0)).toEqual(run.samples[0]);
    expect(sampleAt(run, 1)).toEqual(run.samples.at(-1));
    expect(sampleAt(run, 7)).toEqual(run.samples.at(-1));
    expect(sampleAt(run, -1)?.pointer).toBe(0);
    expect(sampleAt(run, 0.25)?.pointer).toBeCloseTo(62.5, 9);
  });

  it('spreads samples evenly where the crank stands still', () => {
    const pressed = unwrapRun([sample(40, 0), sample(40, 98), sample(40, 96)], 100, 10);
    expect(pressed.due).toEqual([0, 0.5, 1]);
  });

  it('may be empty or one sample', () => {
    expect(sampleAt(unwrapRun([], 100, 10), 0.5)).toBeUndefined();
    expect(sampleAt(unwrapRun([sample(3, 4)], 100, 10), 0)?.pointer).toBe(4);
    expect(sampleAt(unwrapRun([sample(3, 4)], 100, 10), 1)?.pointer).toBe(4);
  });
});

describe('with less motion', () => {
  const run = unwrapRun([sample(0, 0), sample(52, 52), sample(104, 4)], 100, 10);

  it('stands still in steps of at most 5° of crank, and ends at the end', () => {
    const stops = new Set<number>();
    for (let time = 0; time <= 1; time += 0.001)
      stops.add(sampleAt(run, steppedFraction(run, time, 5))?.deg ?? -1);
    stops.add(sampleAt(run, steppedFraction(run, 1, 5))?.deg ?? -1);
    const places = [...stops].sort((a, b) => a - b);
    expect(places).toHaveLength(22);
    expect(places.at(-1)).toBe(104);
    for (let index = 1; index < places.length; index += 1) {
      expect((places[index] ?? 0) - (places[index - 1] ?? 0)).toBeLessThanOrEqual(5 + 1e-9);
    }
  });

  it('goes from sample to sample where nothing turns, so that turns can still be counted', () => {
    const still = unwrapRun([sample(0, 0), sample(0, 25), sample(0, 50)], 100, 10);
    expect([0, 0.2, 0.6, 1].map((time) => steppedFraction(still, time, 5))).toEqual([0, 0, 0.5, 1]);
    expect(steppedFraction(unwrapRun([sample(0, 3)], 100, 10), 0.2, 5)).toBe(1);
  });
});
