import type { GaugeSeen } from '../../bench-parts/kind.ts';
import type { ExerciseKind } from '../kind.ts';
import { generateDialReading } from './generate.ts';
import { gradeDialReading } from './grade.ts';
import type {
  DialReadingAction,
  DialReadingBench,
  DialReadingBrief,
  DialReadingDefinition,
  DialReadingSheet,
  DialReadingState,
  DialReadingView,
} from './types.ts';
import { lookAtDrill, sampleAt, startDialReading, stepDialReading } from './work.ts';

/** Short drills: watch the pointer run from its zero, count its turns, read where it stands. */
export const dialReading: ExerciseKind<
  DialReadingDefinition,
  DialReadingBench,
  DialReadingState,
  DialReadingAction,
  GaugeSeen<DialReadingView>,
  DialReadingView,
  DialReadingBrief,
  DialReadingSheet
> = {
  generate: generateDialReading,
  start: startDialReading,
  look: lookAtDrill,
  act: (bench, before, action) => {
    const { state, said, travels } = stepDialReading(bench, before, action);
    const drill = bench.drills[state.drill - 1];
    const samples = drill === undefined ? [] : travels.map((travel) => sampleAt(drill, travel));
    return { state, seen: { said, samples, now: lookAtDrill(bench, state) } };
  },
  brief: ({ name, drills }) => ({
    kind: 'dial-reading',
    name,
    drills: drills.map(({ dialName, dial: { plungerAtZero, counterAtZero, ...dial } }, index) => ({
      drill: index + 1,
      dialName,
      dial,
    })),
  }),
  grade: gradeDialReading,
};
