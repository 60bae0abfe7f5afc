import { describe, expect, it } from 'vitest';
import {
  crankSvg,
  crankTransform,
  effortSvg,
  effortTransform,
  effortWord,
} from '../../views/drawing/crank.ts';

describe('the chalk mark', () => {
  it.each([
    [0, 'rotate(0)'],
    [114, 'rotate(114)'],
    [360, 'rotate(0)'],
    [725, 'rotate(5)'],
    [-30, 'rotate(330)'],
  ])('at %d° stands at %s', (deg, transform) => expect(crankTransform(deg)).toBe(transform));

  it('is named in whole degrees under 360', () => {
    expect(crankSvg({ crankDeg: 359.7 }, { id: 'c', title: 'Crank' })).toContain('>0°<');
    expect(crankSvg({ crankDeg: 114.2 }, { id: 'c', title: 'Crank' })).toContain('>114°<');
  });
});

describe('the effort on the bar', () => {
  it('is a place and a word', () => {
    expect([0, 0.2, 0.5, 0.8, 1].map(effortWord)).toEqual([
      'No pull',
      'Light pull',
      'Steady pull',
      'Hard pull',
      'All you can do',
    ]);
    const places = [0, 0.5, 1].map((effort) =>
      Number(/translate\(([\d.]+) 0\)/.exec(effortTransform(effort))?.[1]),
    );
    expect(places[1]).toBeCloseTo(((places[0] ?? 0) + (places[2] ?? 0)) / 2, 9);
    expect(places[2]).toBeGreaterThan(places[0] ?? 999);
  });

  it('is held to the ends of the scale', () => {
    expect(effortTransform(3)).toBe(effortTransform(1));
    expect(effortTransform(-1)).toBe(effortTransform(0));
  });

  it('can be found and moved by its parts', () => {
    const svg = effortSvg({ effort: 0.8 }, { id: 'e', title: 'Effort' });
    expect(svg).toContain('data-part="effort"');
    expect(svg).toMatch(/data-part="effort-word">Hard pull</);
  });
});
