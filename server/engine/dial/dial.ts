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

/** The dials a practice engine may carry. Common practice, no source; sizes as in ASME B89.1.10M and DIN 878 gauges. */
export const DIALS = {
  'inch-0.001-1': {
    unit: 'in',
    graduation: 0.001,
    rangePerTurn: 0.1,
    travel: 1,
    face: 'continuous',
    counter: 'forwards',
  },
  'inch-0.001-0.25': {
    unit: 'in',
    graduation: 0.001,
    rangePerTurn: 0.1,
    travel: 0.25,
    face: 'continuous',
    counter: 'forwards',
  },
  'inch-0.0005-0.5': {
    unit: 'in',
    graduation: 0.0005,
    rangePerTurn: 0.05,
    travel: 0.5,
    face: 'continuous',
    counter: 'forwards',
  },
  'metric-0.01-10': {
    unit: 'mm',
    graduation: 0.01,
    rangePerTurn: 1,
    travel: 10,
    face: 'continuous',
    counter: 'forwards',
  },
  'metric-0.01-20': {
    unit: 'mm',
    graduation: 0.01,
    rangePerTurn: 1,
    travel: 20,
    face: 'continuous',
    counter: 'forwards',
  },
} as const satisfies Record<string, Dial>;

export type DialName = keyof typeof DIALS;

/** Graduations in one turn of the pointer: a whole number for every dial made. */
export function graduationsPerTurn(dial: Dial): number {
  return Math.round(dial.rangePerTurn / dial.graduation);
}
