import { describe, expect, it } from 'vitest';
import { camProfile, type LiftPoint, liftAt } from '../../views/drawing/cam-profile.ts';
import { cutawaySvg } from '../../views/drawing/cutaway.ts';

const BASE = 20;
const ROLLER = 9;
const LOBE: readonly LiftPoint[] = Array.from({ length: 360 }, (_, deg): LiftPoint => {
  const near = Math.abs(deg - 120);
  return [deg, near < 60 ? 3 * (1 + Math.cos((near / 60) * Math.PI)) : 0];
});

describe('the cam outline', () => {
  it('is a circle where nothing is lifted', () => {
    for (const [x, y] of camProfile([[0, 0]], BASE, ROLLER)) expect(Math.hypot(x, y)).toBeCloseTo(BASE, 9);
  });

  it('touches the roller at every cam angle and never enters it', () => {
    const outline = camProfile(LOBE, BASE, ROLLER);
    for (let cam = 0; cam < 360; cam += 15) {
      const turn = (cam * Math.PI) / 180;
      const rollerY = -(BASE + ROLLER + liftAt(LOBE, cam));
      const nearest = Math.min(
        ...outline.map(([x, y]) =>
          Math.hypot(
            x * Math.cos(turn) - y * Math.sin(turn),
            x * Math.sin(turn) + y * Math.cos(turn) - rollerY,
          ),
        ),
      );
      expect(nearest).toBeGreaterThan(ROLLER - 0.02);
      expect(nearest).toBeLessThan(ROLLER + 0.05);
    }
  });
});

describe('lift between points', () => {
  const curve: readonly LiftPoint[] = [
    [90, 2],
    [270, 4],
  ];
  it.each([
    [90, 2],
    [180, 3],
    [270, 4],
    [0, 3],
    [360, 3],
    [-90, 4],
    [315, 3.5],
  ])('at %f° is %f mm', (deg, lift) => expect(liftAt(curve, deg)).toBeCloseTo(lift, 9));

  it('is nothing for an empty curve', () => expect(liftAt([], 30)).toBe(0));
});

it('shows a hung tappet clear of the cam', () => {
  const hung = cutawaySvg({ liftCurve: LOBE, camDeg: 300, tappetMm: 4 }, { id: 'c', title: 'Section' });
  const home = cutawaySvg({ liftCurve: LOBE, camDeg: 300, tappetMm: 0 }, { id: 'c', title: 'Section' });
  const height = (svg: string) =>
    Number(/data-part="tappet" transform="translate\(\S+ ([\d.]+)\)/.exec(svg)?.[1]);
  expect(height(home) - height(hung)).toBeCloseTo(4 * 3.4, 1);
});
