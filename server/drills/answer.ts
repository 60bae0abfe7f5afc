import {
  act,
  brief,
  type Dial,
  type DialReadingAction,
  type DialReadingBench,
  type DialReadingDefinition,
  type Grade,
  generateBench,
  gradeAttempt,
  type Observation,
  observationsFromDrill,
  startBench,
  type WrittenDrill,
} from '../engine/index.ts';
import { inTenTurns } from './sheet.ts';

/** All that an answer is kept with; a pure function of definition, seed, log and what was written. */
export interface Answer {
  readonly grade: Omit<Grade, 'trace'>;
  readonly observations: readonly Observation[];
  readonly dial: Dial;
  /** The movement and the reading, signed, in the dial's graduations. */
  readonly shownGraduations: number;
  readonly writtenGraduations: number;
}

/** The bench of one dial, drawn again from its definition and seed. It holds the truth: it stays in the server. */
export function drillBench({ definition, seed }: { definition: string; seed: string }): DialReadingBench {
  return generateBench(JSON.parse(definition) as DialReadingDefinition, seed);
}

/** The dial as it is printed. */
export function printedDial(bench: DialReadingBench): Dial {
  const [printed] = brief(bench).drills;
  if (printed === undefined) throw new RangeError('A drill has a dial.');
  return printed.dial;
}

/** How the dial stands after its log, and what was seen of each action. */
export function foldDrill(bench: DialReadingBench, actions: readonly DialReadingAction[]) {
  let state = startBench(bench);
  const seen = actions.map((action) => {
    const step = act(bench, state, action);
    state = step.state;
    return step.seen;
  });
  return { state, seen };
}

/** Grades one dial. The reading must have been written: what is blank is no answer. */
export function answerOf(
  bench: DialReadingBench,
  actions: readonly DialReadingAction[],
  written: WrittenDrill,
): Answer {
  const [drill] = bench.drills;
  if (drill === undefined || written.reading === null) throw new RangeError('There is no answer to grade.');
  const sheet = inTenTurns(drill.dial, drill.movement, written);
  const { trace: _, ...grade } = gradeAttempt(bench, actions, { drills: [sheet] });
  const inGraduations = (length: number) => Number((length / drill.dial.graduation).toFixed(3));
  return {
    grade,
    observations: observationsFromDrill(bench, sheet),
    dial: printedDial(bench),
    shownGraduations: inGraduations(drill.movement),
    writtenGraduations: inGraduations(written.reading),
  };
}
