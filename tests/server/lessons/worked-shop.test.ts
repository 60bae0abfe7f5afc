import { describe, expect, it } from 'vitest';
import { fillTemplate, TemplateProblem } from '../../../server/lessons/template.ts';
import { workedNumber } from '../../../server/lessons/worked.ts';

const said = (text: string) => fillTemplate(text, workedNumber);

describe('worked numbers of the shop', () => {
  it('whole readings and what is half of them', () => {
    // TM 10-3930-664-24: 0, +0.003, −0.002, +0.003 in at 12, 3, 6 and 9.
    expect(said('{{span of="0 0.003 -0.002 0.003" unit=in}}')).toBe('0.005 in');
    expect(said('{{span of="-0.01 0.03 0" unit=mm}}')).toBe('0.04 mm');
    // 0.1 mm of reading is 0.05 mm out.
    expect(said('{{eccentricity of=0.1 unit=mm}}')).toBe('0.05 mm');
    expect(said('{{average of="0.0025 0.003 0.002 0.0025" unit=in decimals=4}}')).toBe('0.0025 in');
  });

  it('a housing bore, as dieselmechanic.info works it', () => {
    expect(said('{{housing nine=0.004 three=-0.002 show=horizontal unit=in}}')).toBe('0.006 in');
    expect(said('{{housing twelve=-0.005 lift=0.002 show=vertical unit=in}}')).toBe('−0.003 in');
  });

  it('a plunger out of line with the movement', () => {
    // 0.010 × (1 − cos 20°) = 0.010 × 0.0603.
    expect(said('{{low length=0.01 degrees=20 unit=in decimals=4}}')).toBe('0.0006 in');
    // 4.125 × (1/cos 2° − 1) = 4.125 × 0.000610.
    expect(said('{{slant diameter=4.125 degrees=2 unit=in decimals=4}}')).toBe('0.0025 in');
  });

  it('verdicts on teeth and on liners', () => {
    const gears = (teeth: string) =>
      said(`{{gears teeth="${teeth}" lower=0.004 upper=0.012 spread=0.002 unit=in}}`);
    expect(gears('0.006 0.0065 0.007 0.0065')).toBe('inside');
    expect(gears('0.006 0.009')).toBe('uneven');
    expect(gears('0.011 0.0125')).toBe('above');
    const liner = (points: string) =>
      said(`{{liner points="${points}" lower=0.001 upper=0.004 within=0.002 unit=in}}`);
    expect(liner('0.0025 0.002 0.003 0.0025')).toBe('inside');
    expect(liner('0.001 0.0035')).toBe('uneven');
    expect(liner('0.0005 0.002')).toBe('below');
    expect(said('{{step means="0.0031 0.0014 0.0026" unit=in decimals=4}}')).toBe('0.0017 in');
    expect(said('{{level step=0.0017 between=0.002 unit=in}}')).toBe('inside');
    expect(said('{{level step=0.0021 between=0.002 unit=in}}')).toBe('above');
  });

  it('a cylinder', () => {
    const places = 'top="4.128 4.131" middle="4.1275 4.129" bottom="4.127 4.1275"';
    expect(said('{{diameter ring=4.115 reading=-0.012 unit=in decimals=4}}')).toBe('4.1270 in');
    expect(said(`{{bore ${places} show=largest unit=in decimals=4}}`)).toBe('4.1310 in');
    // TM 9-2815-260-24: out-of-round at one depth, taper along one direction.
    expect(said(`{{bore ${places} show=out-of-round unit=in decimals=4}}`)).toBe('0.0030 in');
    expect(said(`{{bore ${places} show=taper unit=in decimals=4}}`)).toBe('0.0035 in');
    const verdict = (limits: string) => said(`{{bore-verdict ${places} ${limits} unit=in}}`);
    expect(verdict('upper=4.133 out-of-round=0.003 taper-limit=0.002')).toBe('tapered');
    expect(verdict('upper=4.13 out-of-round=0.003 taper-limit=0.002')).toBe('above');
    expect(verdict('upper=4.133')).toBe('inside');
  });

  it('a valve train', () => {
    // 0.300 × 1.5 − 0.012.
    expect(said('{{valve lobe=0.3 ratio=1.5 lash=0.012 unit=in}}')).toBe('0.438 in');
    expect(said('{{ratio lift=0.438 lash=0.012 lobe=0.3}}')).toBe('1.50');
  });

  it('say what is wrong with a call that cannot be worked out', () => {
    for (const call of [
      '{{span of="a b" unit=in}}',
      '{{span of="1 2"}}',
      '{{bore top="4.1" middle="4.1 4.1" bottom="4.1 4.1" show=taper unit=in}}',
      '{{ratio lift=0.4 lobe=0}}',
      '{{gears teeth="0.006" lower=0.02 upper=0.012 unit=in}}',
      '{{slant diameter=4 degrees=90 unit=in}}',
    ])
      expect(() => said(call), call).toThrow(TemplateProblem);
  });
});

describe('the lobe that the lesson plots', () => {
  it('rises 0.240 in, and half of it half way up the rise', () => {
    expect(said('{{curve-lift crank=45}}')).toBe('0.240 in');
    expect(said('{{curve-lift crank=-80}}')).toBe('0.000 in');
    // Cycloidal: s(1/2) = 1/2. The rise is 100° of crank and ends 4° of crank before the nose.
    expect(said('{{curve-lift crank=-9}}')).toBe('0.120 in');
  });

  it('passes 0.050 in where its curve does, and a straight line between near neighbours says the same', () => {
    // Bisected apart from the engine: cycloidal s = 0.208333 at x = 0.34176 of the rise.
    expect(said('{{curve-event at=0.05 show=opens}}')).toBe('−24.8°');
    expect(said('{{curve-passes at=0.05 from=-25 to=-20}}')).toBe('−24.8°');
    expect(said('{{degrees from=-24.8 to=167.5 show=width}}')).toBe('192.3°');
    expect(said('{{degrees from=-24.8 to=167.5 show=middle}}')).toBe('71.3°');
  });

  it('gets the verdicts that its figures call for, in their order', () => {
    const verdict = (lift: number, width: number, centre: number) =>
      said(
        `{{curve-verdict lift=${lift} width=${width} centre=${centre} lift-from=0.235 lift-to=0.245 width-from=186 width-to=198 centre-from=68 centre-to=74}}`,
      );
    expect(verdict(0.24, 192.3, 71.3)).toBe('inside');
    expect(verdict(0.228, 180, 60)).toBe('below');
    expect(verdict(0.24, 192, 57)).toBe('shifted');
    expect(verdict(0.24, 192, 73 + 720)).toBe('inside');
    expect(() => said('{{curve-passes at=0.05 from=-200 to=-190}}')).toThrow(TemplateProblem);
  });
});
