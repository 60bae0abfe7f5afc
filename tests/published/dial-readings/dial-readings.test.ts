import { describe, expect, it } from 'vitest';
import {
  convertLength,
  DIALS,
  type DialName,
  graduationsPerTurn,
  liftFromBoxes,
  readDial,
} from '../../../server/engine/index.ts';

const PUBLISHED: { dial: DialName; turns: number; pointer: number; lift: number }[] = [
  { dial: 'inch-0.001-1', turns: 2, pointer: 14, lift: 0.214 },
  { dial: 'inch-0.001-0.25', turns: 2, pointer: 14, lift: 0.214 },
  { dial: 'inch-0.001-1', turns: 4, pointer: 17, lift: 0.417 },
  { dial: 'inch-0.0005-0.5', turns: 4, pointer: 28, lift: 0.214 },
  { dial: 'metric-0.01-10', turns: 5, pointer: 4, lift: 5.04 },
  { dial: 'metric-0.01-10', turns: 0, pointer: 42, lift: 0.42 },
  { dial: 'metric-0.01-10', turns: 4, pointer: 98, lift: 4.98 },
];

describe('published readings', () => {
  it.each(PUBLISHED)('$dial: $turns turns and $pointer is $lift', ({ dial, turns, pointer, lift }) => {
    expect(liftFromBoxes(DIALS[dial], { turns, pointer })).toBeCloseTo(lift, 12);
    const set = { ...DIALS[dial], plungerAtZero: 0, counterAtZero: 0 };
    const shown = readDial(set, lift);
    expect(shown.turns).toBe(turns);
    expect(shown.pointer).toBeCloseTo(pointer, 9);
    expect(shown.reading).toBeCloseTo(lift, 12);
  });

  it('0.214 in is 5.4356 mm', () => expect(convertLength(0.214, 'in', 'mm')).toBeCloseTo(5.4356, 12));

  it('at 4.98 mm the small hand looks like 5: it is a count, not a measurement', () => {
    const shown = readDial({ ...DIALS['metric-0.01-10'], plungerAtZero: 0, counterAtZero: 0 }, 4.98);
    expect(Math.round(shown.counter ?? 0)).toBe(5);
    expect(shown.turns).toBe(4);
  });
});

describe('published dials', () => {
  it.each([
    ['inch-0.001-1', 0.001, 0.1, 1],
    ['inch-0.001-0.25', 0.001, 0.1, 0.25],
    ['inch-0.0005-0.5', 0.0005, 0.05, 0.5],
    ['metric-0.01-10', 0.01, 1, 10],
  ] as const)('%s: graduation %f, turn %f, travel %f', (name, graduation, rangePerTurn, travel) => {
    expect(DIALS[name]).toMatchObject({ graduation, rangePerTurn, travel });
    expect(graduationsPerTurn(DIALS[name])).toBe(100);
  });
});
