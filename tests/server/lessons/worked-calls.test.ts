import { describe, expect, it } from 'vitest';
import { fillTemplate, TemplateProblem } from '../../../server/lessons/template.ts';
import { workedNumber } from '../../../server/lessons/worked.ts';

const worked = (call: string) => fillTemplate(`{{${call}}}`, workedNumber);

describe('numbers worked out in lessons, against values from elsewhere', () => {
  it.each([
    // Steepest places of the motion laws in closed form: π/2, 15/8, 2, 35/16 (standard cam-design curves).
    ['steepest law=simple-harmonic', '1.57'],
    ['steepest law=polynomial-3-4-5', '1.88'],
    ['steepest law=cycloidal', '2.00'],
    ['steepest law=polynomial-4-5-6-7', '2.19'],
    // Four-stroke cycle of 720°, firing orders: Denton, p. 107.
    ['between cylinders=4 from=1 to=3', '180°'],
    ['between cylinders=4 from=3 to=1', '540°'],
    ['between cylinders=6 from=4 to=1', '120°'],
    ['order cylinders=6', '1\u20115\u20113\u20116\u20112\u20114'],
    ['camdeg crank=240', '120°'],
    // π/4 × 10² × 3, geometry.
    ['volume diameter=10 stroke=3', '236 mm³'],
    // US Navy training manual 14315, figures 3-44 and 3-45.
    ['adapter wanted=100 wrench=12 adapter=6', '66.7'],
    // NIST SP 811: 1 lbf·ft = 1.355 818 N·m.
    ['torque lbfft=35', '47.5 N·m'],
    // Normal distribution, one side open, one standard uncertainty inside: 84.1 % (JCGM 106, 7.3).
    ['probability lift=0.234 lower=0.233 u=0.002', '84 %'],
    ['probability lift=0.233 lower=0.233 u=0.002', '50 %'],
    // ISO 14253-1: inside is proven from the limit plus U.
    ['guarded lift=0.235 lower=0.233 u=0.002', 'inside'],
    ['guarded lift=0.2345 lower=0.233 u=0.002', 'too close to call'],
    ['guarded lift=0.2305 lower=0.233 u=0.002', 'below'],
    // GUM F.2.2.1: a step of 0.001 is 0.00029 as a standard uncertainty; s/√n of three readings by hand.
    ['budget graduation=0.001 gauge=0 readings="0.236 0.237 0.236" show=resolution', '0.00029 in'],
    ['budget graduation=0.001 gauge=0 readings="0.236 0.237 0.236" show=scatter', '0.00033 in'],
    // Half of a total reading; a lever: 0.311 × 1.5 − 0.012.
    ['eccentricity of=0.09 unit=mm decimals=3', '0.045 mm'],
    ['valve lobe=0.311 ratio=1.5 lash=0.012 unit=in decimals=4', '0.4545 in'],
    ['ratio lift=0.4545 lash=0.012 lobe=0.311', '1.50'],
    ['diameter ring=4.125 reading=-0.003 unit=in decimals=4', '4.1280 in'],
    // JIS B 7503:2011, 0.01 mm, over 5 to 10 mm.
    ['allowed dial=metric-0.01-10 show=wholeRange', '0.015 mm'],
    ['allowed dial=metric-0.01-10 show=hysteresis', '0.003 mm'],
    ['span of="0.006 -0.004" unit=in', '0.010 in'],
    // 4.125 ÷ cos 2° − 4.125.
    ['slant diameter=4.125 degrees=2 unit=in decimals=4', '0.0025 in'],
  ])('{{%s}} is %s', (call, value) => {
    expect(worked(call)).toBe(value);
  });

  it('says what it cannot work out', () => {
    for (const call of [
      'between cylinders=4 from=1 to=7',
      'budget graduation=0.001 gauge=0 readings="1" show=U',
      'lobewidth height=9',
    ])
      expect(() => worked(call), call).toThrow(TemplateProblem);
  });
});
