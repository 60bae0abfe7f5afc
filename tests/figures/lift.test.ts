import { describe, expect, it } from 'vitest';
import { beginFigure } from '../../views/figures/index.ts';
import { answerOf } from '../../views/figures/lift.ts';
import {
  barTo,
  clampLift,
  FIGURE_DEG,
  insideLift,
  liftCurve,
  startLift,
  zeroLift,
} from '../../views/figures/lift-engine.ts';

describe('the live figure', () => {
  const set = clampLift(zeroLift(startLift()));

  it('begins on the base circle, with the small hand away from zero and the bezel not yet at zero', () => {
    const { view } = startLift();
    expect(insideLift(startLift()).tappetMm).toBe(0);
    expect(view.sample.counter).toBeGreaterThan(1);
    expect(view.sample.pointer).toBeGreaterThan(1);
    expect(answerOf(startLift())).toBe('Turn the bezel to zero first.');
  });

  it('comes home after two turns of the crank, with the whole lift as its highest', () => {
    let figure = set;
    for (let deg = 0; deg <= FIGURE_DEG; deg += 3) figure = barTo(figure, deg);
    expect(Math.abs(figure.tally.now ?? 9)).toBeLessThan(0.5);
    const liftMm = Math.max(...liftCurve().map(([, mm]) => mm));
    // Set-up and pass scatter by a few tenths of a graduation.
    expect(Math.abs((figure.tally.highest ?? 0) - liftMm / 0.0254)).toBeLessThan(2);
    expect(answerOf(figure)).toContain('up to 720°: 0.23');
  });

  it('counts the same turns whether the crank is turned in one go or a degree at a time', () => {
    let slow = set;
    for (let deg = 1; deg <= 290; deg += 1) slow = barTo(slow, deg);
    const fast = barTo(set, 290);
    expect(fast.tally.now).toBeCloseTo(slow.tally.now ?? 0, 1);
    expect(Math.floor((fast.tally.now ?? 0) / 100)).toBe(2);
  });

  it('goes back the way it came, and is held to its ends', () => {
    const back = barTo(barTo(set, 290), 0);
    expect(Math.abs(back.tally.now ?? 9)).toBeLessThan(0.5);
    expect(barTo(set, -50)).toBe(set);
    expect(barTo(set, 9999).barredDeg).toBe(FIGURE_DEG);
    expect(barTo(set, Number.NaN).barredDeg).toBe(0);
  });

  it('leaves a clamped bezel where it is', () => {
    const up = barTo(set, 250);
    expect(zeroLift(up).tally.now).toBe(up.tally.now);
    expect(zeroLift(clampLift(up)).tally.now).toBe(0);
  });

  it('lifts the tappet as the lobe does', () => {
    const curve = liftCurve();
    for (const deg of [0, 200, 250, 290, 360, 500]) {
      const { camDeg, tappetMm } = insideLift(barTo(set, deg));
      const near = curve[Math.round((camDeg % 360) / 3) % curve.length];
      expect(Math.abs(tappetMm - (near?.[1] ?? 99)), `${deg}°`).toBeLessThan(0.4);
    }
  });

  it('shows the answer only when it is asked for', () => {
    const figure = beginFigure('lift', {}, 'figure-1');
    figure.set('zero', '');
    figure.set('crank', '290');
    const { told, reads, drawings } = figure.show();
    expect(told).toBeNull();
    expect(reads.map(({ name }) => name)).toEqual(['crank', 'pointer', 'counter']);
    expect(drawings[0]?.svg).not.toContain('mm up');
    figure.set('tell', 'true');
    expect(figure.show().told).toContain('2 × 0.100');
  });
});
