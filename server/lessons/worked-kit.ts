import {
  DIALS,
  type Dial,
  type DialName,
  type DialReading,
  graduationsPerTurn,
  type LengthUnit,
  readDial,
} from '../engine/index.ts';
import { type Call, numberOf, oneOf, TemplateProblem } from './template.ts';

/** Worked numbers by name: what a lesson writes between double braces, and how the engine comes to its value. */
export type WorkedNumbers = Readonly<Record<string, (call: Call) => string>>;

export const DIAL_NAMES = Object.keys(DIALS) as DialName[];
export const UNITS = ['in', 'mm'] as const;

/** A length as a reader writes it: thousandths of an inch or hundredths of a millimetre, and half a graduation where there is one. */
export function writeLength(value: number, unit: LengthUnit, decimals = unit === 'in' ? 3 : 2): string {
  const rounded = value.toFixed(decimals);
  return /^-0\.?0*$/.test(rounded) ? rounded.slice(1) : rounded.replace('-', '−');
}

/** A reading of a dial as turns and pointer, with the small hand's place at zero. The engine reads it back. */
export function readingOf(call: Call): { dial: Dial; reading: DialReading; counterBefore: number } {
  const dial: Dial = DIALS[oneOf(call, 'dial', DIAL_NAMES)];
  const counterBefore = numberOf(call, 'counter', 0);
  const graduations = numberOf(call, 'turns') * graduationsPerTurn(dial) + numberOf(call, 'pointer');
  const travel = graduations * dial.graduation;
  const plungerAtZero = plungerAt(counterBefore, dial);
  if (plungerAtZero + travel > dial.travel)
    throw new TemplateProblem(`holds {{${call.name}}} with a reading past the gauge's travel`);
  const reading = readDial({ ...dial, plungerAtZero, counterAtZero: counterBefore }, travel);
  return { dial, reading, counterBefore };
}

/** How far the plunger is in when the small hand stands at `counter` turns: out, the pointer rests a quarter turn before twelve o'clock. */
export function plungerAt(counter: number, dial: Dial): number {
  return (counter + 0.25) * dial.rangePerTurn;
}

/** Runs the engine on what a lesson gives; what it refuses is the lesson's mistake. @throws TemplateProblem saying why. */
export function worked(call: Call, work: () => number): number {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) throw new TemplateProblem(`holds {{${call.name}}}: ${error.message}`);
    throw error;
  }
}
