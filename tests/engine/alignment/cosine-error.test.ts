import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cosineFactor,
  type Misalignment,
  shownAlong,
  shownLeaning,
  trueFromShown,
  type UnitVector,
} from '../../../server/engine/index.ts';
import { LAW } from '../../support/arbitraries/settings.ts';

/** A direction leaning from straight up, in a plane through it. */
const leaning = (deg: number): UnitVector => [
  Math.sin((deg * Math.PI) / 180),
  0,
  Math.cos((deg * Math.PI) / 180),
];
const UP = leaning(0);
const CASES: readonly Misalignment[] = ['leans-on-square-face', 'in-line-with-leaning-rod', 'tip-caught'];

describe('an indicator that leans', () => {
  it('on a square face shows too much', () => {
    expect(shownLeaning(0.2, 60, 'leans-on-square-face')).toBeCloseTo(0.4, 12);
    for (const deg of [-12, 3, 12])
      expect(shownLeaning(0.2, deg, 'leans-on-square-face')).toBeCloseTo(
        shownAlong(0.2, { axis: leaning(deg), normal: UP, travel: UP }),
        14,
      );
  });
  it('in line with a leaning rod shows too little', () => {
    expect(shownLeaning(0.2, 60, 'in-line-with-leaning-rod')).toBeCloseTo(0.1, 12);
    for (const deg of [-12, 3, 12])
      expect(shownLeaning(0.2, deg, 'in-line-with-leaning-rod')).toBeCloseTo(
        shownAlong(0.2, { axis: leaning(deg), normal: leaning(deg), travel: UP }),
        14,
      );
  });
  it('with its tip caught shows too little', () =>
    expect(shownLeaning(0.2, 60, 'tip-caught')).toBeCloseTo(0.1, 12));
  it('square shows what there is, whatever the case', () => {
    for (const misalignment of CASES) expect(shownLeaning(0.214, 0, misalignment)).toBe(0.214);
    expect(shownAlong(-0.214, { axis: UP, normal: UP, travel: UP })).toBe(-0.214);
  });
  it('needs 7.8° for two graduations at 0.214 in', () => {
    expect(shownLeaning(0.214, 7.8, 'leans-on-square-face') - 0.214).toBeCloseTo(0.002, 4);
  });
  it('shows the same wherever the bench is turned to: only the angles between count', () => {
    /** Twisted about the vertical by one angle and then tipped about x by another. */
    const turned = ([x, y, z]: UnitVector, twist: number, tip: number): UnitVector => {
      const [c, s, d, t] = [Math.cos(twist), Math.sin(twist), Math.cos(tip), Math.sin(tip)];
      const across = s * x + c * y;
      return [c * x - s * y, d * across - t * z, t * across + d * z];
    };
    const angle = fc.double({ min: -180, max: 180, noNaN: true });
    const lean = fc.double({ min: -40, max: 40, noNaN: true });
    fc.assert(
      fc.property(angle, angle, lean, lean, (twist, tip, axisDeg, faceDeg) => {
        const [axis, normal, travel] = [leaning(axisDeg), leaning(faceDeg), UP];
        const by = (vector: UnitVector) => turned(vector, twist, tip);
        expect(shownAlong(0.2, { axis: by(axis), normal: by(normal), travel: by(travel) })).toBeCloseTo(
          shownAlong(0.2, { axis, normal, travel }),
          12,
        );
      }),
      LAW,
    );
  });
  it('along the face shows nothing', () =>
    expect(shownAlong(0.2, { axis: UP, normal: UP, travel: [1, 0, 0] })).toBe(0));
  it.each([90, -90, 120, Number.NaN])('by %f degrees is refused', (deg) => {
    expect(() => cosineFactor(deg)).toThrow(RangeError);
    expect(() => cosineFactor(deg)).toThrow('lean');
    for (const misalignment of CASES) {
      expect(() => shownLeaning(0.2, deg, misalignment)).toThrow(RangeError);
      expect(() => trueFromShown(0.2, deg, misalignment)).toThrow(RangeError);
    }
  });
  it('with a plunger that does not point into the face is refused', () => {
    expect(() => shownAlong(1, { axis: [1, 0, 0], normal: UP, travel: UP })).toThrow(RangeError);
    expect(() => shownAlong(1, { axis: leaning(180), normal: UP, travel: UP })).toThrow(RangeError);
    expect(() => shownAlong(1, { axis: leaning(180), normal: UP, travel: UP })).toThrow('into the face');
  });
  it.each([[[0, 0, 2]], [[0, 0, 0]], [[Number.NaN, 0, 1]]] as [UnitVector][])(
    'along %j, which is no direction, is refused',
    (bad) => {
      for (const part of ['axis', 'normal', 'travel'])
        expect(() => shownAlong(1, { axis: UP, normal: UP, travel: UP, [part]: bad })).toThrow('A direction');
    },
  );
  it('is corrected back to what there was, leaning either way', () =>
    fc.assert(
      fc.property(
        fc.double({ min: -10, max: 10, noNaN: true }),
        fc.double({ min: -80, max: 80, noNaN: true }),
        fc.constantFrom(...CASES),
        (y, deg, misalignment) => {
          const shown = shownLeaning(y, deg, misalignment);
          expect(trueFromShown(shown, deg, misalignment)).toBeCloseTo(y, 12);
          expect(shownLeaning(y, -deg, misalignment)).toBe(shown);
          expect(Math.abs(shown) >= Math.abs(y)).toBe(
            misalignment === 'leans-on-square-face' || y === 0 || cosineFactor(deg) === 1,
          );
        },
      ),
      LAW,
    ));
});
