import type { LengthUnit } from '../units.ts';

/** A dial indicator as it is printed and built. Every length is in the dial's own `unit`. */
export interface Dial {
  readonly unit: LengthUnit;
  /** Value of one graduation. */
  readonly graduation: number;
  /** Travel for one turn of the pointer. */
  readonly rangePerTurn: number;
  /** Whole travel of the plunger. */
  readonly travel: number;
  /** `continuous` counts one way, 0-100; `balanced` both ways, 0-50-0. */
  readonly face: 'continuous' | 'balanced';
  /** Which way the small hand turns as the plunger goes in. */
  readonly counter: 'forwards' | 'backwards' | 'none';
}

/** A dial after it has been zeroed: where its plunger and its small hand stood at the bezel's zero. */
export interface SetDial extends Dial {
  /** Plunger position at the bezel's zero, from its outermost place, 0 to `travel`. */
  readonly plungerAtZero: number;
  /** Small hand at the bezel's zero, in turns. It seldom starts at zero: the bezel turns the face, not the small hand. */
  readonly counterAtZero: number;
}

const INCH: Dial = {
  unit: 'in',
  graduation: 0.001,
  rangePerTurn: 0.1,
  travel: 1,
  face: 'continuous',
  counter: 'forwards',
};
const FINE_INCH: Dial = { ...INCH, graduation: 0.0005, rangePerTurn: 0.05, travel: 0.5 };
const METRIC: Dial = { ...INCH, unit: 'mm', graduation: 0.01, rangePerTurn: 1, travel: 10 };
const FINE_METRIC: Dial = { ...METRIC, graduation: 0.001, rangePerTurn: 0.2, travel: 1 };

/**
 * The dials there are, by unit, graduation and travel; a word after them where face or small hand is not the usual one. Common
 * practice, no source; sizes as in ASME B89.1.10M, DIN 878 and JIS B 7503 gauges. Ten-thousandths of an inch and thousandths of a millimetre are too fine, and too short, for a cam's lift.
 */
export const DIALS = {
  'inch-0.001-1': INCH,
  'inch-0.001-1-balanced': { ...INCH, face: 'balanced' },
  'inch-0.001-1-backwards': { ...INCH, counter: 'backwards' },
  'inch-0.001-1-no-counter': { ...INCH, counter: 'none' },
  'inch-0.001-0.5': { ...INCH, travel: 0.5 },
  'inch-0.001-0.25': { ...INCH, travel: 0.25 },
  'inch-0.0005-0.5': FINE_INCH,
  'inch-0.0005-0.5-balanced': { ...FINE_INCH, face: 'balanced' },
  'inch-0.0005-0.125': { ...FINE_INCH, travel: 0.125 },
  'inch-0.0001-0.05': { ...INCH, graduation: 0.0001, rangePerTurn: 0.01, travel: 0.05 },
  'metric-0.01-10': METRIC,
  'metric-0.01-10-balanced': { ...METRIC, face: 'balanced' },
  'metric-0.01-10-backwards': { ...METRIC, counter: 'backwards' },
  'metric-0.01-10-no-counter': { ...METRIC, counter: 'none' },
  'metric-0.01-5': { ...METRIC, travel: 5 },
  'metric-0.01-20': { ...METRIC, travel: 20 },
  'metric-0.001-1': FINE_METRIC,
  'metric-0.001-5': { ...FINE_METRIC, travel: 5 },
} as const satisfies Record<string, Dial>;

export type DialName = keyof typeof DIALS;

/** Graduations in one turn of the pointer: a whole number, 1 or more, for every dial made. Never throws. Source: arithmetic. */
export function graduationsPerTurn(dial: Dial): number {
  return Math.round(dial.rangePerTurn / dial.graduation);
}
