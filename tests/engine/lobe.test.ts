import { describe, expect, it } from 'vitest';
import { displacementMm, type Lobe, SOUND_LOBE } from '../../server/engine/index.ts';
import { extremes, highestOfBaseMm } from '../../server/engine/lobe/lift-curve.ts';

/** Simple harmonic, so that half way up each flank stands half the lift: 50° up, 10° of nose, 100° down. */
const LOBE: Lobe = {
  law: 'simple-harmonic',
  liftMm: 6,
  riseCamDeg: 50,
  dwellCamDeg: 10,
  fallCamDeg: 100,
  noseCrankDeg: 0,
  condition: SOUND_LOBE,
};
const worn = (condition: Partial<Lobe['condition']>): Lobe => ({
  ...LOBE,
  condition: { ...SOUND_LOBE, ...condition },
});
const heights = (lobe: Lobe, angles: readonly number[]) => angles.map((deg) => displacementMm(lobe, deg));
const hundredths = Array.from({ length: 36_000 }, (_, n) => n / 100 - 180);
const highestOf = (lobe: Lobe) => Math.max(...heights(lobe, hundredths));
function check(lobe: Lobe, expected: Readonly<Record<string, number>>) {
  for (const [deg, mm] of Object.entries(expected))
    expect(displacementMm(lobe, Number(deg)), `at ${deg}°`).toBeCloseTo(mm, 12);
}

describe('a sound lobe', () => {
  it('stands still on the nose, rises before it and falls after, each flank with its own angle', () => {
    check(LOBE, { 0: 6, 5: 6, [-5]: 6, [-30]: 3, 55: 3, [-55]: 0, 105: 0 });
    // A third of the way down in angle: (1 + cos 60°)/2 of the lift.
    check(LOBE, { [-(5 + 50 / 3)]: 4.5, [5 + 100 / 3]: 4.5 });
  });
  it('stands on the base circle everywhere else, and comes round every turn', () => {
    expect(heights(LOBE, [106, 150, 180, -180, -120, -56])).toEqual([0, 0, 0, 0, 0, 0]);
    check(LOBE, { 360: 6, [-720]: 6, 330: 3, 415: 3 });
  });
  it('is as high as its lift and as low as its base circle', () =>
    expect(extremes(LOBE)).toEqual({ highestMm: 6, lowestMm: 0 }));
});

describe('what use does to a lobe', () => {
  it('wears the nose by all of it in the middle, less down the flanks, the base circle not at all', () => {
    const lobe = worn({ wearMm: 0.4 });
    check(lobe, { 0: 5.6, [-55]: 0, 105: 0, 150: 0 });
    // Half way out in angle half the wear is left: (1 + cos 90°)/2.
    expect(displacementMm(LOBE, -27.5) - displacementMm(lobe, -27.5)).toBeCloseTo(0.2, 12);
    expect(displacementMm(LOBE, 52.5) - displacementMm(lobe, 52.5)).toBeCloseTo(0.2, 12);
    for (let deg = -180; deg < 180; deg += 1) expect(displacementMm(lobe, deg)).toBeGreaterThanOrEqual(0);
    // Worn most in the middle, the nose is highest a little beside it, on its longer flank.
    expect(extremes(lobe).highestMm).toBeCloseTo(highestOf(lobe), 4);
    expect(extremes(lobe).highestMm).toBeGreaterThan(5.605);
  });

  it('builds up where the deposit is and nowhere else, also across the turn of the angle', () => {
    const lobe = worn({ buildUp: { place: 'base', heightMm: 0.1, atCamDeg: 178, halfWidthCamDeg: 10 } });
    check(lobe, { 178: 0.1, 173: 0.05, [-177]: 0.05, 168: 0, [-172]: 0, 0: 6 });
    expect(extremes(lobe)).toEqual({ highestMm: 6, lowestMm: 0 });
    const onNose = worn({ buildUp: { place: 'nose', heightMm: 0.1, atCamDeg: 2, halfWidthCamDeg: 10 } });
    expect(extremes(onNose).highestMm).toBeCloseTo(6.1, 4);
  });

  it('moves the whole lobe by its run-out, towards where that is highest', () => {
    const lobe = worn({ runOutMm: 0.05, runOutPhaseCamDeg: 150 });
    check(lobe, { 150: 0.05, [-120]: 0, [-150]: 0.05 * Math.cos((300 * Math.PI) / 180) });
    check(lobe, { 0: 6 + 0.05 * Math.cos((150 * Math.PI) / 180) });
    expect(highestOfBaseMm(lobe)).toBeCloseTo(0.05, 4);
    // Opposite the middle of the rise there is no base circle: the highest left of it is at one of its ends.
    const onRise = worn({ runOutMm: 0.05, runOutPhaseCamDeg: -25 });
    expect(highestOfBaseMm(onRise)).toBeCloseTo(0.05 * Math.cos((30 * Math.PI) / 180), 4);
    expect(highestOfBaseMm(LOBE)).toBe(0);
  });

  it('finds the highest place to a tenth of a micrometre, on either side of the nose', () => {
    for (const phase of [-60, 60]) {
      const lobe = worn({ runOutMm: 0.1, runOutPhaseCamDeg: phase });
      expect(extremes(lobe).highestMm).toBeCloseTo(highestOf(lobe), 4);
      expect(extremes(lobe).lowestMm).toBeCloseTo(-0.1, 4);
    }
  });
});
