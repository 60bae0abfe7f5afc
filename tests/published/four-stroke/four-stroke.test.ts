import { describe, expect, it } from 'vitest';
import { generateCamLift } from '../../../server/engine/exercises/cam-lift/generate.ts';
import { CYCLE_DEG, displacementMm, FIRING_ORDERS, firingTdcDeg } from '../../../server/engine/index.ts';

const ORDERS = {
  6: { order: [1, 5, 3, 6, 2, 4], everyDeg: 120, tdcDeg: { 1: 0, 5: 120, 3: 240, 6: 360, 2: 480, 4: 600 } },
  4: { order: [1, 3, 4, 2], everyDeg: 180, tdcDeg: { 1: 0, 3: 180, 4: 360, 2: 540 } },
} as const;

describe.each([6, 4] as const)('an inline %i', (cylinders) => {
  const { order, everyDeg, tdcDeg } = ORDERS[cylinders];

  it('fires in the published order, evenly over 720° of crank', () => {
    expect(FIRING_ORDERS[cylinders]).toEqual(order);
    expect(CYCLE_DEG).toBe(720);
    expect(CYCLE_DEG / cylinders).toBe(everyDeg);
  });

  it.each(Object.entries(tdcDeg))('fires cylinder %s at %i° from cylinder 1', (cylinder, deg) => {
    expect(firingTdcDeg(FIRING_ORDERS[cylinders], Number(cylinder))).toBe(deg);
  });

  it('lifts each injection lobe once in two turns of the crank, and once in one turn of the cam', () => {
    const bench = generateCamLift({ kind: 'cam-lift', cylinders }, 'four-stroke');
    for (const { lobe, highestMm } of bench.lobes) {
      const isUp = (crankDeg: number) =>
        displacementMm(lobe, (crankDeg - lobe.noseCrankDeg) / 2) > highestMm / 2;
      const risesIn = (degrees: number) =>
        Array.from({ length: degrees }, (_, deg) => deg).filter((deg) => !isUp(deg) && isUp(deg + 1)).length;
      expect(risesIn(720)).toBe(1);
      expect(risesIn(1440)).toBe(2);
    }
  });
});

it('refuses a cylinder that is not in the order', () => {
  expect(() => firingTdcDeg(FIRING_ORDERS[4], 5)).toThrow(RangeError);
  expect(() => firingTdcDeg(FIRING_ORDERS[4], 5)).toThrow('Cylinder 5 is not in the firing order 1-3-4-2');
});
