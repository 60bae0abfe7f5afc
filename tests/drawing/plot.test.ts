import { describe, expect, it } from 'vitest';
import { DIALS } from '../../server/engine/dial/dial.ts';
import type { TraceMark, TraceRun } from '../../server/engine/grading/types.ts';
import { plotSvg } from '../../views/drawing/plot.ts';

const DIAL = DIALS['inch-0.001-1'];
const CRANK = Array.from({ length: 241 }, (_, index) => 40 + index * 3);
const TRAVEL = CRANK.map(
  (deg) => 0.237 * Math.max(0, Math.sin(((deg - 100) / 300) * Math.PI)) * (deg < 400 ? 1 : 0),
);

function mark(what: TraceMark['what'], index: number): TraceMark {
  return { what, index, crankDeg: CRANK[index] ?? 0, travel: TRAVEL[index] ?? 0, at: index };
}

const RUN: TraceRun = {
  position: 3,
  setUp: 1,
  crankDeg: CRANK,
  travel: TRAVEL,
  at: CRANK.map(() => 1),
  marks: [
    mark('zero', 0),
    mark('press', 1),
    mark('high', 70),
    mark('note', 70),
    mark('missed-high', 72),
    mark('rolled-back', 80),
    mark('return', 240),
    mark('note', 240),
  ],
};

function words(svg: string): { x: number; y: number; width: number; text: string }[] {
  return [...svg.matchAll(/class="plot-word" x="([\d.-]+)" y="([\d.-]+)">([^<]+)/g)].map((found) => ({
    x: Number(found[1]),
    y: Number(found[2]),
    width: (found[3] ?? '').length * 6.4,
    text: found[3] ?? '',
  }));
}

describe.each(['narrow', 'wide'] as const)('the %s plot', (size) => {
  const svg = plotSvg(RUN, DIAL, { id: 'plot', title: 'Lobe 3, set-up 1', size });

  it('rules each whole turn of the pointer', () => {
    expect(svg.match(/class="plot-rule" d/g)).toHaveLength(2);
    expect(svg.match(/class="plot-zero" d/g)).toHaveLength(1);
    for (const value of ['0.0', '0.1', '0.2']) expect(svg).toContain(`>${value}</text>`);
  });

  it('draws every point, from where the run began', () => {
    const path = /class="plot-line" d="([^"]+)"/.exec(svg)?.[1] ?? '';
    expect(path.split(/[ML]/).length - 1).toBe(CRANK.length);
    expect(svg).toMatch(/text-anchor="middle">720</);
  });

  it('gives each mark its word, none over another and all on the paper', () => {
    const placed = words(svg);
    expect(placed).toHaveLength(RUN.marks.length);
    const width = size === 'narrow' ? 360 : 720;
    for (const [index, one] of placed.entries()) {
      expect(one.x).toBeGreaterThanOrEqual(0);
      expect(one.x + one.width).toBeLessThanOrEqual(width);
      for (const other of placed.slice(index + 1)) {
        const clear =
          Math.abs(one.y - other.y) >= 14 || one.x + one.width <= other.x || other.x + other.width <= one.x;
        expect(clear, `${one.text} over ${other.text}`).toBe(true);
      }
    }
  });

  it('gives each kind of mark a shape of its own', () => {
    const shapes = new Map(
      [...svg.matchAll(/plot-mark-([a-z-]+)" transform="[^"]+" d="([^"]+)"/g)].map((found) => [
        found[1],
        found[2],
      ]),
    );
    expect(shapes.size).toBe(7);
    expect(new Set(shapes.values()).size).toBe(7);
  });

  it('says the run in words', () => {
    expect(svg).toContain('720° barred. zero 0.0000 in at 0°');
  });
});

it('says once how many boxes were filled in one after another, and apart what was written elsewhere', () => {
  const marks = [mark('note', 70), ...Array.from({ length: 9 }, (_, index) => mark('note', 200 + 4 * index))];
  const svg = plotSvg({ ...RUN, marks }, DIAL, { id: 'plot', title: 'Plot', size: 'wide' });
  expect(words(svg).map(({ text }) => text)).toEqual(['written', 'written ×9']);
  expect(svg.match(/class="plot-mark plot-mark-note"/g)).toHaveLength(2);
});

it('says so when nothing was barred', () => {
  const empty: TraceRun = { ...RUN, crankDeg: [], travel: [], at: [], marks: [] };
  expect(plotSvg(empty, DIAL, { id: 'p', title: 'Empty', size: 'wide' })).toContain('Nothing was barred.');
});

it('holds a travel below zero', () => {
  const low: TraceRun = { ...RUN, travel: TRAVEL.map((travel) => travel - 0.15), marks: [] };
  expect(plotSvg(low, DIAL, { id: 'p', title: 'Low', size: 'wide' })).toContain('>-0.1</text>');
});
