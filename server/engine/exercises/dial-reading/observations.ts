import type { Observation } from '../../learner/knowledge-tracing.ts';
import { observationsFromReading } from '../../learner/reading-drill.ts';
import type { Skill } from '../../learner/skills.ts';
import { diagnoseDrill, mirrored, shownBy } from './diagnose.ts';
import type { DialReadingBench, WrittenDrill } from './types.ts';

/** What a drill can show of a reader: the pointer stands still where it came to, and nothing is set up or judged. */
export const DRILLED_SKILLS: readonly Skill[] = [
  'direction',
  'interpolating',
  'graduation-value',
  'counting-turns',
  'revolution-counter',
];

/**
 * What one answered drill says of a reader's skills: one observation of each that it asked for. Coming out is looked at as going in with
 * the small hand the other way; a turned sign speaks against direction. A blank reading says nothing. Lengths in the dial's unit.
 * Never throws. Source: which mistake speaks against which skill is common practice, no source.
 */
export function observationsFromDrill(bench: DialReadingBench, written: WrittenDrill): Observation[] {
  const drill = bench.drills[written.drill - 1];
  if (drill === undefined || written.reading === null) return [];
  const { turns, pointer, counterBefore, counterAfter, reading } = written;
  const seen = observationsFromReading(mirrored(drill), shownBy(bench, drill), {
    turns: turns === null ? null : Math.abs(turns),
    pointer,
    counterBefore,
    counterHigh: counterAfter,
    lift: Math.abs(reading),
  });
  const isTurned =
    reading !== 0 &&
    Math.sign(reading) !== Math.sign(drill.movement) &&
    diagnoseDrill(bench, drill, written).mistakes.includes('sign-turned');
  return seen
    .filter(({ skill }) => DRILLED_SKILLS.includes(skill))
    .map((one) => (isTurned && one.skill === 'direction' ? { ...one, right: false } : one));
}
