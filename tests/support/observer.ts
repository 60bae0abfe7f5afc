import {
  type CamLiftHabits as Habits,
  type MeasuredLobes,
  measureLobes,
} from '../../server/demonstrations/index.ts';
import {
  brief,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftDefinition,
  generateBench,
} from '../../server/engine/index.ts';
import { carryOut } from './carry-out.ts';

export {
  type CamLiftHabits as Habits,
  type SeenLobe,
  type SeenReading,
  writeSheet,
  writeWhatIsSeen,
} from '../../server/demonstrations/index.ts';

/** A whole attempt as an observer left it. */
export interface ObservedAttempt extends MeasuredLobes {
  readonly bench: CamLiftBench;
  readonly actions: readonly CamLiftAction[];
}

/** A careful student at a cam-lift engine, but for the habits; who reads only what is to be seen. */
export function observe(
  definition: CamLiftDefinition,
  seed: string | number,
  habits: Habits = {},
): ObservedAttempt {
  const bench = generateBench(definition, seed);
  const { actions, result } = carryOut<'cam-lift', MeasuredLobes>(bench, (first) =>
    measureLobes(brief(bench), first, habits),
  );
  const { plate, seen, sheet } = result;
  return { bench, plate, actions, seen, sheet };
}
