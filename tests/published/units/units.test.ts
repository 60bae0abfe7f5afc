import { describe, expect, it } from 'vitest';
import { convertLength, fromMm, MM_PER_IN, NM_PER_LBF_FT, toMm } from '../../../server/engine/index.ts';

describe('lengths, exact by definition', () => {
  it('one inch is 25.4 mm', () => expect(MM_PER_IN).toBe(25.4));
  it.each([
    [0.001, 0.0254],
    [0.004, 0.1016],
    [0.214, 5.4356],
    [1, 25.4],
    [0, 0],
    [-0.004, -0.1016],
  ])('%f in is %f mm', (inches, millimetres) => {
    expect(toMm(inches, 'in')).toBeCloseTo(millimetres, 12);
    expect(fromMm(millimetres, 'in')).toBeCloseTo(inches, 12);
    expect(convertLength(inches, 'in', 'mm')).toBeCloseTo(millimetres, 12);
  });
  it('a length in its own unit is left alone', () => {
    expect(convertLength(0.1, 'in', 'in')).toBe(0.1);
    expect([toMm(0.1, 'mm'), fromMm(0.1, 'mm')]).toEqual([0.1, 0.1]);
  });
});

describe('torque, NIST SP 811 appendix B', () => {
  it('one pound-force foot is 1.355 817 948 331 400 4 N·m', () =>
    expect(NM_PER_LBF_FT).toBeCloseTo(1.3558179483314, 14));
  it('printed as 1.355 818', () => expect(NM_PER_LBF_FT.toFixed(6)).toBe('1.355818'));
  it.each([
    [20, 27.116359],
    [35, 47.453628],
  ])('%f lbf·ft is %f N·m', (poundFeet, newtonMetres) =>
    expect(poundFeet * NM_PER_LBF_FT).toBeCloseTo(newtonMetres, 6),
  );
});
