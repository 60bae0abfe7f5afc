import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type MotionLawName, motionLaw } from '../../../server/engine/index.ts';

interface Published {
  readonly peakVelocity: string;
  readonly peakAcceleration: string;
  readonly peakJerk: string;
  readonly samples: readonly { readonly x: string; readonly s: string; readonly v: string }[];
}
const file = JSON.parse(readFileSync(new URL('cam-laws.json', import.meta.url), 'utf8')) as {
  laws: Record<string, Published>;
};
const names = Object.keys(file.laws) as MotionLawName[];

/** Largest size of a function on 0..1, looked for at ten thousand points and between the best of them. */
function peak(f: (x: number) => number): number {
  let best = 0;
  let at = 0;
  for (let step = 0; step <= 10_000; step += 1) {
    const size = Math.abs(f(step / 10_000));
    if (size > best) [best, at] = [size, step / 10_000];
  }
  for (let step = -1000; step <= 1000; step += 1) {
    const x = at + step / 1e7;
    if (x >= 0 && x <= 1) best = Math.max(best, Math.abs(f(x)));
  }
  return best;
}

/** Central difference, to about nine digits on these laws. */
const slope = (f: (x: number) => number, x: number) => (f(x + 1e-5) - f(x - 1e-5)) / 2e-5;
/** Places inside the stretches of every law: no kink of acceleration or jerk within the difference. */
const INSIDE = Array.from({ length: 97 }, (_, step) => 0.0151 + step / 100).filter((x) => x < 0.99);

describe.each(names)('%s', (name) => {
  const law = motionLaw(name);
  const published = file.laws[name] as Published;

  it.each(published.samples)('lifts by $s at $x', ({ x, s, v }) => {
    expect(Math.abs(law.displacement(Number(x)) - Number(s))).toBeLessThan(1e-13);
    expect(Math.abs(law.velocity(Number(x)) - Number(v))).toBeLessThan(1e-12);
  });

  it('has the published peaks', () => {
    expect(peak(law.velocity)).toBeCloseTo(Number(published.peakVelocity), 8);
    expect(peak(law.acceleration)).toBeCloseTo(Number(published.peakAcceleration), 8);
    if (Number.isFinite(Number(published.peakJerk)))
      expect(peak(law.jerk)).toBeCloseTo(Number(published.peakJerk), 8);
  });

  it('has velocity, acceleration and jerk that are each the slope of the one before', () => {
    for (const x of INSIDE) {
      expect(law.velocity(x)).toBeCloseTo(slope(law.displacement, x), 6);
      expect(law.acceleration(x)).toBeCloseTo(slope(law.velocity, x), 5);
      expect(law.jerk(x)).toBeCloseTo(slope(law.acceleration, x), 4);
    }
  });

  it('goes from 0 to 1, stands still at both ends and beyond, and passes the middle at a half', () => {
    expect([-1, 0, 1, 2].map(law.displacement)).toEqual([0, 0, 1, 1]);
    expect(law.displacement(0.5)).toBeCloseTo(0.5, 14);
    expect(law.velocity(0)).toBeCloseTo(0, 12);
    expect(law.velocity(1)).toBeCloseTo(0, 12);
    expect([law.velocity(-0.1), law.acceleration(1.1), law.jerk(2)]).toEqual([0, 0, 0]);
  });

  it('never goes down on the way up', () => {
    for (let step = 1; step <= 1000; step += 1) {
      expect(law.displacement(step / 1000)).toBeGreaterThanOrEqual(law.displacement((step - 1) / 1000));
    }
  });
});

describe('handbook figures, from memory', () => {
  const printed: [MotionLawName, number, number, number | null][] = [
    ['polynomial-3-4-5', 1.875, 5.777, 60],
    ['polynomial-4-5-6-7', 2.188, 7.526, 52],
    ['cycloidal', 2, 6.283, 40],
    ['modified-sine', 1.76, 5.528, 69],
    ['modified-trapezoid', 2, 4.888, 61],
    ['simple-harmonic', 1.571, 4.945, null],
  ];
  it.each(printed)('%s prints %f, %f, %f', (name, velocity, acceleration, jerk) => {
    const law = motionLaw(name);
    expect(Math.abs(peak(law.velocity) / velocity - 1)).toBeLessThan(0.0005);
    expect(Math.abs(peak(law.acceleration) / acceleration - 1)).toBeLessThan(0.01);
    if (jerk !== null) expect(Math.abs(peak(law.jerk) / jerk - 1)).toBeLessThan(0.015);
  });

  it('refuses a law nobody knows', () => {
    expect(() => motionLaw('square' as MotionLawName)).toThrow(RangeError);
  });
});
