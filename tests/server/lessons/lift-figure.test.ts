import { describe, expect, it } from 'vitest';
import {
  barTo,
  clampFigure,
  FIGURE_DEG,
  figureLiftCurve,
  insideFigure,
  startFigure,
  zeroFigure,
} from '../../../views/client/models/lift-figure.ts';
import { answerOf, figureParts, readoutsOf } from '../../../views/client/models/lift-figure-parts.ts';

describe('the live figure', () => {
  const set = clampFigure(zeroFigure(startFigure()));

  it('begins on the base circle, with the small hand away from zero and the bezel not yet at zero', () => {
    const { view } = startFigure();
    expect(insideFigure(startFigure()).tappetMm).toBe(0);
    expect(view.sample.counter).toBeGreaterThan(1);
    expect(view.sample.pointer).toBeGreaterThan(1);
    expect(answerOf(startFigure())).toBe('Turn the bezel to zero first.');
  });

  it('comes home after two turns of the crank, with the whole lift as its highest', () => {
    let figure = set;
    for (let deg = 0; deg <= FIGURE_DEG; deg += 3) figure = barTo(figure, deg);
    expect(Math.abs(figure.counted ?? 9)).toBeLessThan(0.5);
    const liftMm = Math.max(...figureLiftCurve().map(([, mm]) => mm));
    // Set-up and pass scatter by a few tenths of a graduation.
    expect(Math.abs((figure.highest ?? 0) - liftMm / 0.0254)).toBeLessThan(2);
    expect(answerOf(figure)).toContain('up to 720°: 0.23');
  });

  it('counts the same turns whether the crank is turned in one go or a degree at a time', () => {
    let slow = set;
    for (let deg = 1; deg <= 290; deg += 1) slow = barTo(slow, deg);
    const fast = barTo(set, 290);
    expect(fast.counted).toBeCloseTo(slow.counted ?? 0, 1);
    expect(Math.floor((fast.counted ?? 0) / 100)).toBe(2);
  });

  it('goes back the way it came, and is held to its ends', () => {
    const back = barTo(barTo(set, 290), 0);
    expect(Math.abs(back.counted ?? 9)).toBeLessThan(0.5);
    expect(barTo(set, -50)).toBe(set);
    expect(barTo(set, 9999).barredDeg).toBe(FIGURE_DEG);
    expect(barTo(set, Number.NaN).barredDeg).toBe(0);
  });

  it('leaves a clamped bezel where it is', () => {
    const up = barTo(set, 250);
    expect(zeroFigure(up).counted).toBe(up.counted);
    expect(zeroFigure(clampFigure(up)).counted).toBe(0);
  });

  it('lifts the tappet as the lobe does', () => {
    const curve = figureLiftCurve();
    for (const deg of [0, 200, 250, 290, 360, 500]) {
      const { camDeg, tappetMm } = insideFigure(barTo(set, deg));
      const near = curve[Math.round((camDeg % 360) / 3) % curve.length];
      expect(Math.abs(tappetMm - (near?.[1] ?? 99)), `${deg}°`).toBeLessThan(0.4);
    }
  });

  it('shows the answer only in its answer', () => {
    const up = barTo(set, 290);
    const { cutaway } = figureParts(up);
    expect(cutaway).toContain('<desc id="lift-figure-cutaway-desc">Cam at');
    expect(readoutsOf(up).map(({ name }) => name)).toEqual(['crank', 'barred', 'pointer', 'counter']);
  });
});
