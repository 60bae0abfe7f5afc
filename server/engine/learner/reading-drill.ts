import { explainReading, liftFromBoxes } from '../diagnosis/explain-reading.ts';
import type { ShownReading, WrittenBoxes } from '../diagnosis/hypotheses.ts';
import { nameMistake } from '../diagnosis/name-mistake.ts';
import type { Dial } from '../dial/dial.ts';
import type { Observation } from './knowledge-tracing.ts';
import { type Evidence, hold, observationsOf } from './observations.ts';
import type { Skill } from './skills.ts';

/** Turns that the small hand may be read off by: its face is marked in whole turns. Common practice, no source. */
const COUNTER_WITHIN = 0.3;

/**
 * What one reading says of a reader's skills, by itself as in a drill: one observation of each skill that it asked for. Turns are asked of
 * a reading of a turn or more, the high point where it is known what the dial showed when it was written, the small hand where both its
 * boxes are written. A blank box says nothing. Lengths in the dial's unit, counters in turns. Never throws. Source: which mistake speaks
 * against which skill is common practice, no source.
 */
export function observationsFromReading(
  dial: Dial,
  shown: ShownReading,
  written: WrittenBoxes,
): Observation[] {
  const evidence: Evidence = { against: new Set(), unclear: new Set() };
  const asked = new Set<Skill>();
  const counter = readsCounter(dial, shown, written);
  if (counter !== null) asked.add('revolution-counter');
  if (counter === false) evidence.against.add('revolution-counter');
  const lift = written.lift ?? liftFromBoxes(dial, written);
  if (lift !== null) {
    for (const skill of askedBy(dial, shown, written)) asked.add(skill);
    const naming = nameMistake(explainReading(dial, shown, written));
    const offGraduations = (lift - shown.high) / dial.graduation;
    if (naming !== null) hold({ ...naming, offGraduations }, evidence);
  }
  return observationsOf(asked, evidence);
}

function askedBy(dial: Dial, shown: ShownReading, { lift }: WrittenBoxes): Skill[] {
  return [
    'direction',
    'interpolating',
    ...(lift === null || lift === undefined ? [] : ['graduation-value' as const]),
    ...(shown.high < dial.rangePerTurn ? [] : ['counting-turns' as const]),
    ...(shown.noted === null || shown.noted === undefined ? [] : ['high-point' as const]),
  ];
}

/** Was the small hand read right at zero and at the high point? Null where it cannot be told. */
function readsCounter(dial: Dial, shown: ShownReading, written: WrittenBoxes): boolean | null {
  const { counterBefore: before, counterHigh: high } = written;
  const atZero = shown.counterAtZero;
  if (dial.counter === 'none' || atZero === null || atZero === undefined) return null;
  if (before === null || before === undefined || high === null || high === undefined) return null;
  const turns = shown.high / dial.rangePerTurn;
  const atHigh = atZero + (dial.counter === 'backwards' ? -turns : turns);
  return isNear(before, atZero) && isNear(high, atHigh);
}

/** The small hand goes round in ten turns: 9.9 is near to 0. */
function isNear(written: number, shown: number): boolean {
  const off = Math.abs(written - shown) % 10;
  return Math.min(off, 10 - off) <= COUNTER_WITHIN;
}
