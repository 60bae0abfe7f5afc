import { describe, expect, it } from 'vitest';
import { DIALS, type Dial, graduationsPerTurn } from '../../server/engine/dial/dial.ts';
import { type DialDrawing, dialSvg, numeralAt } from '../../views/drawing/dial.ts';
import { dialScale, partTransforms, pointerDeg } from '../../views/drawing/dial-geometry.ts';

const NAMES = { id: 'dial', title: 'Dial indicator' };
const INCH: Dial = DIALS['inch-0.001-1'];
const FINE_METRIC: Dial = { ...DIALS['metric-0.01-10'], graduation: 0.001, rangePerTurn: 0.2, travel: 2 };

function shown(dial: Dial, more: Partial<DialDrawing> = {}): DialDrawing {
  return {
    dial,
    pointer: 0,
    counter: 1,
    faceTurn: 0,
    clamped: false,
    plungerMm: 0,
    indicator: 'on',
    ...more,
  };
}

/** The face alone: what turns with the bezel. */
function face(svg: string): string {
  return svg.split('data-part="face"')[1]?.split('</g></g>')[0] ?? '';
}

function strokes(svg: string, name: string): number {
  const path = new RegExp(`class="${name}[^"]*" d="([^"]*)"`).exec(face(svg))?.[1] ?? '';
  return path.split('M').length - 1;
}

describe('the face', () => {
  it.each([...Object.values(DIALS), FINE_METRIC])('has every graduation of $graduation $unit', (dial) => {
    const n = graduationsPerTurn(dial);
    const svg = dialSvg(shown(dial), NAMES);
    expect(strokes(svg, 'dial-tenth')).toBe(n / 10);
    expect(strokes(svg, 'dial-fifth')).toBe(n / 10);
    expect(strokes(svg, 'dial-each')).toBe((n * 8) / 10);
  });

  it('is numbered 0 to 90 where a turn is 100 graduations of 0.001 in or 0.01 mm', () => {
    const tenths = [0, 10, 20, 30, 40, 50, 60, 70, 80, 90];
    for (const dial of [INCH, DIALS['metric-0.01-20']]) {
      expect(tenths.map((k) => numeralAt(dial, k))).toEqual(tenths.map(String));
    }
  });

  it('is numbered in thousandths where a graduation is half of one', () => {
    expect([0, 10, 50, 90].map((k) => numeralAt(DIALS['inch-0.0005-0.5'], k))).toEqual([
      '0',
      '5',
      '25',
      '45',
    ]);
  });

  it('counts both ways when balanced', () => {
    const balanced: Dial = { ...INCH, face: 'balanced' };
    expect([0, 10, 40, 50, 60, 90].map((k) => numeralAt(balanced, k))).toEqual([
      '0',
      '10',
      '40',
      '50',
      '40',
      '10',
    ]);
  });

  it('says what a graduation, a turn and the travel are', () => {
    const svg = dialSvg(shown(INCH), NAMES);
    expect(svg).toContain('>0.001 in<');
    expect(svg).toContain('>1 turn 0.100<');
    expect(svg).toContain('>travel 1.000<');
    expect(dialSvg(shown(DIALS['metric-0.01-10']), NAMES)).toContain('>0.01 mm<');
  });
});

describe('what moves', () => {
  const scale = dialScale(INCH);

  it('sets the pointer against the face and the face against the case', () => {
    expect(pointerDeg(scale, { pointer: 14, faceTurn: 0 })).toBeCloseTo(50.4, 9);
    expect(pointerDeg(scale, { pointer: 14, faceTurn: 23 })).toBeCloseTo(133.2, 9);
    expect(pointerDeg(scale, { pointer: 90, faceTurn: 25 })).toBeCloseTo(54, 9);
  });

  it('turns face and bezel together, and not the small hand', () => {
    const before = partTransforms(scale, {
      pointer: 10,
      counter: 2.5,
      faceTurn: 0,
      clamped: false,
      plungerMm: 3,
    });
    const after = partTransforms(scale, {
      pointer: 0,
      counter: 2.5,
      faceTurn: 10,
      clamped: false,
      plungerMm: 3,
    });
    expect(after.face).toBe('rotate(36)');
    expect(after.bezel).toBe(after.face);
    expect(after.counter).toBe(before.counter);
    expect(after.pointer).toBe(before.pointer);
  });

  it('turns the small hand once in the ten turns of a 1 in dial, and once in five where there are fewer', () => {
    expect(scale.counterTurns).toBe(10);
    expect(
      partTransforms(scale, { pointer: 0, counter: 2.5, faceTurn: 0, clamped: true, plungerMm: 0 }).counter,
    ).toBe('rotate(90)');
    expect(dialScale(DIALS['inch-0.001-0.25']).counterTurns).toBe(5);
    expect(dialScale(DIALS['inch-0.0005-0.5']).counterTurns).toBe(10);
    // The engine's small hand starts again at ten: on a face of twenty it would spring back half a turn.
    expect(dialScale(DIALS['metric-0.01-20']).counterTurns).toBe(10);
  });

  it('lifts the plunger as it goes in, true to size where there is room', () => {
    const quarter = dialScale(DIALS['inch-0.001-0.25']);
    expect(quarter.unitsPerMm).toBe(6.5);
    expect(
      partTransforms(quarter, { pointer: 0, counter: 0, faceTurn: 0, clamped: true, plungerMm: 2 }).plunger,
    ).toBe('translate(0 -13)');
    expect(dialScale(INCH).unitsPerMm * 25.4).toBeCloseTo(78, 9);
  });

  it('shows the clamp in another place when clamped', () => {
    const stand = { pointer: 0, counter: 0, faceTurn: 0, plungerMm: 0 };
    expect(partTransforms(scale, { ...stand, clamped: true }).clamp).not.toBe(
      partTransforms(scale, { ...stand, clamped: false }).clamp,
    );
  });

  it.each(['face', 'bezel', 'pointer', 'counter', 'plunger', 'clamp'])('has a part called %s', (part) => {
    expect(dialSvg(shown(INCH), NAMES).split(`data-part="${part}"`)).toHaveLength(2);
  });

  it('has no small hand where the dial has none', () => {
    const svg = dialSvg(shown({ ...INCH, counter: 'none' }, { counter: null }), NAMES);
    expect(svg).not.toContain('data-part="counter"');
  });
});

it('carries no inline style or script, and its names are escaped', () => {
  const svg = dialSvg(shown(INCH), { id: 'x', title: 'A <b> & "c"' });
  expect(svg).not.toMatch(/ style=|<style|<script| on[a-z]+=/);
  expect(svg).toContain('A &lt;b&gt; &amp; &quot;c&quot;');
});
