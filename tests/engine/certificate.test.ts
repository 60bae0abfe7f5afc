import { describe, expect, it } from 'vitest';
import { calibrate, calibrationTurns, certificateOf } from '../../server/engine/dial/certificate.ts';
import { DIALS } from '../../server/engine/dial/dial.ts';
import { mostErrorMm, PERFECT_GAUGE, shownMm } from '../../server/engine/dial/gauge-error.ts';

const metric = DIALS['metric-0.01-10'];
const every = (step: number, from: number, to: number) =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, n) => Number((from + n * step).toFixed(1)));

describe('the places of a calibration', () => {
  it('are every tenth to turn 2, every half to turn 5, every turn to 10, every five on from there', () => {
    const ten = [...every(0.1, 0, 2), ...every(0.5, 2.5, 5), ...every(1, 6, 9)];
    // Ten turns of travel: three graduations short of its end there is no tenth turn.
    expect(calibrationTurns(metric)).toEqual(ten);
    expect(calibrationTurns(DIALS['metric-0.01-20'])).toEqual([...ten, 10, 15]);
    expect(calibrationTurns(DIALS['metric-0.01-5'])).toEqual([...every(0.1, 0, 2), ...every(0.5, 2.5, 4.5)]);
    expect(calibrationTurns({ ...metric, travel: 100 }).slice(-2)).toEqual([45, 50]);
  });
  it('leave three graduations after the last: exactly three are enough', () => {
    expect(calibrationTurns({ ...metric, travel: 1.03 }).at(-1)).toBe(1);
    expect(calibrationTurns({ ...metric, travel: 1.02 }).at(-1)).toBe(0.9);
  });
});

describe('a calibration', () => {
  it('finds nothing on a perfect gauge', () => {
    for (const { goingIn, comingBack } of calibrate(metric, PERFECT_GAUGE))
      expect([goingIn, comingBack].map((error) => Math.abs(error) < 1e-12)).toEqual([true, true]);
  });

  it('finds hysteresis coming back at every place, and more there than going in', () => {
    for (const { goingIn, comingBack } of calibrate(metric, { ...PERFECT_GAUGE, hysteresisMm: 0.003 })) {
      expect(goingIn).toBeCloseTo(0, 12);
      expect(comingBack).toBeCloseTo(0.003, 12);
    }
  });

  it('finds the waves where they are, counted from the first place', () => {
    const wave = { ...PERFECT_GAUGE, waveMm: 0.004 };
    const slow = { ...PERFECT_GAUGE, slowMm: 0.004, slowPhase: Math.PI / 2 };
    const at = (error: typeof wave, place: number) =>
      calibrate(metric, error).find((point) => Math.abs(point.at - place) < 1e-9)?.goingIn;
    // A sine once a turn of 1 mm: 0.3 mm stands at 108°.
    expect(at(wave, 0.3)).toBeCloseTo(0.004 * Math.sin((108 * Math.PI) / 180), 12);
    expect(at(wave, 1)).toBeCloseTo(0, 12);
    // A cosine once over 10 mm: from 1 at the start to −1 half way.
    expect(at(slow, 5)).toBeCloseTo(-0.008, 12);
    expect(at({ ...slow, slowCycles: 2 }, 5)).toBeCloseTo(0, 12);
  });

  it('is written in the unit of the dial, errors to a tenth of a graduation', () => {
    const inch = DIALS['inch-0.001-1'];
    const { unit, points } = certificateOf(inch, { ...PERFECT_GAUGE, hysteresisMm: 0.00017 * 25.4 });
    expect(unit).toBe('in');
    expect(points[3]).toEqual({ at: 0.03, goingIn: 0, comingBack: 0.0002 });
    const finer = certificateOf(metric, { ...PERFECT_GAUGE, hysteresisMm: 0.0034 });
    expect(finer.points[3]).toEqual({ at: 0.3, goingIn: 0, comingBack: 0.003 });
  });
});

describe('the errors of a gauge', () => {
  it('are at most both waves from crest to trough, and the hysteresis', () => {
    const gauge = { ...PERFECT_GAUGE, waveMm: 0.002, slowMm: 0.003, hysteresisMm: 0.001 };
    expect(mostErrorMm(gauge)).toBeCloseTo(0.011, 12);
  });
  it('are those of a wave though there is no slow one, and the other way about', () => {
    expect(shownMm({ ...PERFECT_GAUGE, waveMm: 0.004 }, metric, 0.25)).toBeCloseTo(0.254, 12);
    expect(shownMm({ ...PERFECT_GAUGE, slowMm: 0.004 }, metric, 2.5)).toBeCloseTo(2.504, 12);
  });
});
