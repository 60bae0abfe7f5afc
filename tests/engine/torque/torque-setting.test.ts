import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { torqueSetting } from '../../../server/engine/index.ts';
import { LAW } from '../../support/arbitraries/settings.ts';

describe('the setting of a wrench with an adapter', () => {
  it('is what is wanted without one', () => expect(torqueSetting(35, 18, 0, 30)).toBe(35));
  it('is what is wanted across, on either side', () => {
    for (const angle of [90, -90, 270, 450]) expect(torqueSetting(35, 18, 1.25, angle)).toBe(35);
  });
  it('is less in line and more turned back', () => {
    expect(torqueSetting(35, 18, 2, 0)).toBeCloseTo(31.5, 12);
    expect(torqueSetting(35, 18, 2, 180)).toBeCloseTo(39.375, 12);
  });
  it('is refused where the adapter reaches back to the hand', () => {
    expect(() => torqueSetting(35, 18, 18, 180)).toThrow(RangeError);
    expect(() => torqueSetting(35, 18, 20, 180)).toThrow('reaches back');
    expect(torqueSetting(35, 18, 17.999, 180)).toBeGreaterThan(35);
    expect(torqueSetting(35, 18, 20, 90)).toBe(35);
  });
  it.each([
    [0, 18, 1, 0, 'torque'],
    [-35, 18, 1, 0, 'torque'],
    [Number.NaN, 18, 1, 0, 'torque'],
    [35, 0, 1, 0, 'wrench'],
    [35, Number.POSITIVE_INFINITY, 1, 0, 'wrench'],
    [35, 18, -1, 0, 'length of the adapter'],
    [35, 18, Number.NaN, 0, 'length of the adapter'],
    [35, 18, 1, Number.NaN, 'angle'],
  ])('is refused for %f, %f, %f, %f, and says which is wrong', (wanted, wrench, adapter, angle, wrong) => {
    expect(() => torqueSetting(wanted, wrench, adapter, angle)).toThrow(RangeError);
    expect(() => torqueSetting(wanted, wrench, adapter, angle)).toThrow(wrong);
  });

  const length = fc.double({ min: 1, max: 100, noNaN: true });
  const angle = fc.double({ min: 0, max: 180, noNaN: true });
  it('knows no left and right, and no unit of length', () =>
    fc.assert(
      fc.property(length, angle, (wrench, deg) => {
        const one = torqueSetting(35, wrench, wrench / 4, deg);
        expect(torqueSetting(35, wrench, wrench / 4, -deg)).toBeCloseTo(one, 9);
        expect(torqueSetting(35, wrench * 25.4, (wrench * 25.4) / 4, deg)).toBeCloseTo(one, 9);
        expect(torqueSetting(70, wrench, wrench / 4, deg)).toBeCloseTo(2 * one, 9);
      }),
      LAW,
    ));
  it('rises as the adapter is turned back', () =>
    fc.assert(
      fc.property(length, angle, angle, (wrench, a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(torqueSetting(35, wrench, wrench / 3, high)).toBeGreaterThanOrEqual(
          torqueSetting(35, wrench, wrench / 3, low) * (1 - 1e-12),
        );
      }),
      LAW,
    ));
});
