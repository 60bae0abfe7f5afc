import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DIALS, type Dial, graduationsPerTurn, readDial, type SetDial } from '../../server/engine/index.ts';
import { LAW } from '../support/arbitraries/settings.ts';

const set = (dial: Dial, plungerAtZero = dial.rangePerTurn, counterAtZero = 0.75): SetDial => ({
  ...dial,
  plungerAtZero,
  counterAtZero,
});
const inch = set(DIALS['inch-0.001-1']);
const metric = set(DIALS['metric-0.01-10']);

function check(dial: SetDial, travel: number, expected: Partial<ReturnType<typeof readDial>>) {
  const shown = readDial(dial, travel);
  for (const [name, value] of Object.entries(expected)) {
    const got = shown[name as keyof typeof shown];
    if (typeof value === 'number') expect(got, name).toBeCloseTo(value, 9);
    else expect(got, name).toBe(value);
  }
}

describe('a dial is read', () => {
  it('as whole turns and what the pointer shows', () =>
    check(inch, 0.237, { turns: 2, pointer: 37, reading: 0.237 }));
  it('with whole counts that survive binary rounding: 0.3 / 0.1 is 3', () =>
    check(inch, 0.3, { turns: 3, pointer: 0, reading: 0.3 }));
  it('so for 0.1 + 0.2 too', () => check(inch, 0.1 + 0.2, { turns: 3, pointer: 0 }));
  it('so for 0.7 − 0.1', () => check(inch, 0.7 - 0.1, { turns: 6, pointer: 0 }));
  it('as nothing at zero', () => check(inch, 0, { turns: 0, pointer: 0, reading: 0, counter: 0.75 }));
  it('as −1 turn and 99 just below zero', () =>
    check(inch, -0.001, { turns: -1, pointer: 99, reading: -0.001 }));
  it('between graduations too', () => check(inch, 0.2375, { turns: 2, pointer: 37.5 }));
  it('standing still when the tip has left the work', () =>
    check(inch, -0.5, { turns: -1, pointer: 0, reading: -0.1 }));
  it('standing still at the end of its travel', () => check(inch, 5, { turns: 9, pointer: 0, reading: 0.9 }));
  it('in millimetres', () => check(metric, 5.04, { turns: 5, pointer: 4, reading: 5.04 }));
  it('with a small hand that counts forwards', () => check(inch, 0.25, { counter: 3.25 }));
  it('with a small hand that counts backwards', () =>
    check({ ...inch, counter: 'backwards' }, 0.25, { counter: 0.75 - 2.5 }));
  it('without a small hand', () => check({ ...inch, counter: 'none' }, 0.25, { counter: null }));

  it.each([
    [0, 0, 'plus'],
    [0.014, 14, 'plus'],
    [0.05, 50, 'plus'],
    [0.051, 49, 'minus'],
    [0.099, 1, 'minus'],
    [-0.014, 14, 'minus'],
    [0.214, 14, 'plus'],
  ] as const)('on a balanced face %f in stands at %i on the %s side', (travel, numeral, side) => {
    check({ ...inch, face: 'balanced' }, travel, { numeral, side });
  });

  it('without numeral and side on a continuous face', () => {
    expect(Object.keys(readDial(inch, 0.1)).sort()).toEqual(['counter', 'pointer', 'reading', 'turns']);
  });

  it.each([[Number.NaN], [Number.POSITIVE_INFINITY], [Number.NEGATIVE_INFINITY]])(
    'not at all from %f',
    (travel) => {
      expect(() => readDial(inch, travel)).toThrow(RangeError);
    },
  );
});

const anyDial = fc.constantFrom(...Object.values(DIALS));

describe('on every dial', () => {
  it('turns × range + pointer × graduation is the reading, and the reading is the travel', () => {
    fc.assert(
      fc.property(anyDial, fc.integer({ min: -90, max: 240 }), (dial, graduations) => {
        const whole = graduations * dial.graduation;
        const { turns, pointer, reading } = readDial(
          set(dial, dial.rangePerTurn),
          Math.min(whole, dial.travel - dial.rangePerTurn),
        );
        expect(pointer).toBeGreaterThanOrEqual(0);
        expect(pointer).toBeLessThan(graduationsPerTurn(dial));
        expect(turns * dial.rangePerTurn + pointer * dial.graduation).toBeCloseTo(reading, 9);
        if (whole <= dial.travel - dial.rangePerTurn) {
          expect(turns * graduationsPerTurn(dial) + pointer).toBe(graduations);
        }
      }),
      { ...LAW, numRuns: 400 },
    );
  });

  it('more travel never reads less', () => {
    const travel = fc.double({ min: -2, max: 25, noNaN: true });
    fc.assert(
      fc.property(anyDial, travel, travel, (dial, a, b) => {
        const [low, high] = [
          readDial(set(dial), Math.min(a, b)).reading,
          readDial(set(dial), Math.max(a, b)).reading,
        ];
        expect(low).toBeLessThanOrEqual(high + 1e-9);
      }),
      LAW,
    );
  });

  it('an inch and a metric dial agree on the same movement, within a graduation of each', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 8.9, noNaN: true }), (mm) => {
        const onMetric = readDial(metric, mm);
        const onInch = readDial(inch, mm / 25.4);
        expect(onMetric.reading).toBeCloseTo(onInch.reading * 25.4, 9);
      }),
      LAW,
    );
  });
});
