import {
  DIALS,
  type Dial,
  fromMm,
  graduationsPerTurn,
  readDial,
  type ShownReading,
  toMm,
} from '../engine/index.ts';
import type { Draw } from './chance.ts';
import { plungerAt, writeLength } from './worked-kit.ts';

/** A way to a wrong number that is known, and what to say of it. */
export interface Slip {
  readonly value: number;
  readonly why: string;
}

/** A number that is asked for and is no reading of a gauge. */
export interface Answer {
  readonly value: number;
  /** As it is written beside the box; empty for a plain number. */
  readonly unit: string;
  /** Nearer than this is right. */
  readonly within: number;
  readonly slips: readonly Slip[];
  /** How it is worked out, with its result. */
  readonly sum: string;
}

/** The numbers of one asking. */
export interface Drawn {
  /** Written out, for the text: `{{lift}}`. */
  readonly values: Readonly<Record<string, string>>;
  /** Where a reading is asked for: the gauge, and what it showed. Never on the page. */
  readonly reading: { readonly dial: Dial; readonly shown: ShownReading } | null;
  /** Where another number is asked for. Never on the page. */
  readonly answer?: Answer;
}

/** What can be drawn, by name. */
export type Draws = Readonly<Record<string, (draw: Draw) => Drawn>>;

export const INCH = DIALS['inch-0.001-1'];
export const METRIC = DIALS['metric-0.01-10'];

/** Numbers for the text alone. */
export function words(values: Readonly<Record<string, string>>): Drawn {
  return { values, reading: null };
}

/** Numbers for the text, and a number to be answered with. */
export function asked(values: Readonly<Record<string, string>>, answer: Answer): Drawn {
  return { values, reading: null, answer };
}

/** A reading of so many turns and graduations from zero, the small hand standing at `counterAtZero` there. */
export function reading(dial: Dial, turns: number, pointer: number, counterAtZero: number): Drawn {
  const plungerAtZero = plungerAt(counterAtZero, dial);
  const travelMm = toMm((turns * graduationsPerTurn(dial) + pointer) * dial.graduation, dial.unit);
  const high = readDial({ ...dial, plungerAtZero, counterAtZero }, fromMm(travelMm, dial.unit));
  return {
    values: {
      pointer: String(high.pointer),
      before: counterAtZero.toFixed(1),
      high: (high.counter ?? 0).toFixed(1),
      graduation: `${dial.graduation} ${dial.unit}`,
      turn: `${writeLength(dial.rangePerTurn, dial.unit)} ${dial.unit}`,
    },
    reading: { dial, shown: { high: high.reading, preload: plungerAtZero, counterAtZero } },
  };
}
