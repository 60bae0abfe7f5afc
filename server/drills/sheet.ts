import { dialScale } from '../../views/drawing/index.ts';
import {
  type Dial,
  graduationsPerTurn,
  parseLength,
  type SetDial,
  type WrittenDrill,
} from '../engine/index.ts';
import type { Problems } from '../web/forms.ts';
import type { DrillBoxes } from './schema.ts';

export interface ReadBoxes {
  readonly written: WrittenDrill;
  /** What could not be read, by box. */
  readonly problems: Problems;
}

/** Reads the boxes of one dial. Turns, pointer and reading are asked for; the small hand only where `asksHand` says so. */
export function readBoxes(dial: Dial, typed: DrillBoxes, asksHand: boolean): ReadBoxes {
  const problems: Problems = {};
  const perTurn = graduationsPerTurn(dial);
  const hand = `Write where the small hand stood, 0 to ${dialScale(dial).counterTurns}, for example 2.5.`;
  const number = (name: keyof DrillBoxes, most: number, sentence: string, asked: boolean) => {
    const value = readNumber(typed[name]);
    if (value === null && !asked) return null;
    if (value !== null && value >= 0 && value <= most) return value;
    problems[name] = sentence;
    return null;
  };
  const turns = number('turns', 99, 'Write whole turns, for example 2; 0 where there was none.', true);
  if (turns !== null && !Number.isInteger(turns))
    problems.turns = 'Write whole turns here; what is over goes into the pointer’s box.';
  const written: WrittenDrill = {
    drill: 1,
    turns,
    pointer: number('pointer', perTurn, `Write the graduations past zero, 0 to ${perTurn}.`, true),
    counterBefore: dial.counter === 'none' ? null : number('counterBefore', 10, hand, asksHand),
    counterAfter: dial.counter === 'none' ? null : number('counterAfter', 10, hand, asksHand),
    reading: readReading(dial, typed.reading, problems),
  };
  return { written, problems };
}

/** NaN for what is no number, null for a blank. A sign before turns or pointer says nothing that the reading does not. */
function readNumber(text: string): number | null {
  const trimmed = text
    .trim()
    .replace(',', '.')
    .replace(/^[+−-]\s*/, '');
  if (trimmed === '') return null;
  return /^(\d+\.?\d*|\.\d+)$/.test(trimmed) ? Number(trimmed) : Number.NaN;
}

function readReading(dial: Dial, text: string, problems: Problems): number | null {
  const { unit } = dial;
  const parsed = parseLength(text, unit, dial.travel);
  const name = unit === 'in' ? 'inches' : 'millimetres';
  if (parsed.ok && parsed.value !== null) return parsed.value;
  problems.reading =
    !parsed.ok && parsed.meant !== null
      ? `Do you mean ${parsed.meant} ${unit}? Write it so.`
      : !parsed.ok && parsed.why === 'implausible'
        ? `This dial cannot show more than ${dial.travel} ${unit}. Write the reading in ${name}.`
        : `Write the reading in ${name}, for example ${unit === 'in' ? '0.237' : '2.37'}.`;
  return null;
}

/**
 * The small hand as the engine counts it, in ten turns. On a face of five turns 2 may be 2 or 7: what is written is held against where the
 * hand stood, the nearer of the two.
 */
export function inTenTurns(dial: SetDial, movement: number, written: WrittenDrill): WrittenDrill {
  const { counterTurns } = dialScale(dial);
  if (counterTurns !== 5) return written;
  const way = dial.counter === 'backwards' ? -1 : 1;
  const after = dial.counterAtZero + (way * movement) / dial.rangePerTurn;
  return {
    ...written,
    counterBefore: nearer(written.counterBefore, dial.counterAtZero),
    counterAfter: nearer(written.counterAfter, after),
  };
}

function nearer(written: number | null, stood: number): number | null {
  if (written === null) return null;
  const away = (value: number) => {
    const off = Math.abs(value - (((stood % 10) + 10) % 10));
    return Math.min(off, 10 - off);
  };
  const other = (written + 5) % 10;
  return away(other) < away(written) ? other : written;
}
