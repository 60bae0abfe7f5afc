import type { Grade } from '../grading/types.ts';

/**
 * What a kind of exercise must be able to do. All of it pure: definition + seed + actions + written sheet give the grade.
 */
export interface ExerciseKind<Definition, Bench, State, Action, Seen, View, Brief, Sheet> {
  /** Draws the bench. @throws RangeError for a definition that cannot be built. */
  generate(definition: Definition, seed: string | number): Bench;
  start(bench: Bench): State;
  /** Never throws for a student's action, however odd. */
  act(bench: Bench, state: State, action: Action): { state: State; seen: Seen };
  /** What a person standing there sees without doing anything. */
  look(bench: Bench, state: State): View;
  /** What may be told before grading. */
  brief(bench: Bench): Brief;
  grade(bench: Bench, actions: readonly Action[], sheet: Sheet): Grade;
}
