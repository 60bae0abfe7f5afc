import { explainReading } from '../../diagnosis/explain-reading.ts';
import type { ShownReading, WrittenBoxes } from '../../diagnosis/hypotheses.ts';
import { nameMistake } from '../../diagnosis/name-mistake.ts';
import type { Dial } from '../../dial/dial.ts';
import type { NamedMistake } from '../../grading/types.ts';
import type { DialReadingBench, Drill, WrittenDrill } from './types.ts';

type Said = Pick<NamedMistake, 'how' | 'mistakes'>;

/**
 * What explains a wrong reading of a drill. Direction and length are two questions: the sign is held against the way the plunger went,
 * the length is explained as that of a plunger going in.
 */
export function diagnoseDrill(bench: DialReadingBench, drill: Drill, written: WrittenDrill): Said {
  const reading = written.reading ?? 0;
  const likely = explainReading(mirrored(drill), shownBy(bench, drill), {
    ...boxesOf(written),
    lift: Math.abs(reading),
  });
  const ofLength = nameMistake(likely);
  if (reading === 0 || Math.sign(reading) === Math.sign(drill.movement))
    return ofLength ?? { how: 'unexplained', mistakes: [] };
  if (ofLength === null) return { how: 'one', mistakes: ['sign-turned'] };
  if (ofLength.how === 'one' && ofLength.mistakes.length === 1)
    return { how: 'one', mistakes: ['sign-turned', ...ofLength.mistakes] };
  return { how: 'unexplained', mistakes: [] };
}

/** Coming out, a small hand that turns forwards runs backwards, and all else is as it is going in. */
export function mirrored({ dial, movement }: Drill): Dial {
  if (movement > 0 || dial.counter === 'none') return dial;
  return { ...dial, counter: dial.counter === 'forwards' ? 'backwards' : 'forwards' };
}

/** What a drill showed, as that of a plunger going in; in the dial's unit. */
export function shownBy({ drills }: DialReadingBench, drill: Drill): ShownReading {
  const { dial, movement } = drill;
  const alike = drills.filter(
    (other) => other !== drill && other.dial.unit === dial.unit && other.dial.graduation === dial.graduation,
  );
  return {
    high: Math.abs(movement),
    // Coming out there is nothing that was pushed in before and might be counted in.
    preload: movement > 0 ? dial.plungerAtZero : null,
    counterAtZero: dial.counter === 'none' ? null : dial.counterAtZero,
    // The pointer stands still where it came to: nothing is written short of it.
    noted: Math.abs(movement),
    others: alike.map((other) => Math.abs(other.movement)),
  };
}

function boxesOf({ turns, pointer, counterBefore, counterAfter }: WrittenDrill): WrittenBoxes {
  return {
    turns: turns === null ? null : Math.abs(turns),
    pointer,
    counterBefore,
    counterHigh: counterAfter,
  };
}
