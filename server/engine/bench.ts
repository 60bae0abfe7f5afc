import { KINDS, type KindName, type KindTypes } from './exercises/registry.ts';
import type { Grade } from './grading/types.ts';

type Parts<K extends KindName> = KindTypes[K] extends {
  generate(definition: infer Definition, seed: string | number): infer Bench;
  start(bench: never): infer State;
  act(bench: never, state: never, action: infer Action): { seen: infer Seen };
  look(bench: never, state: never): infer View;
  brief(bench: never): infer Brief;
  grade(bench: never, actions: never, sheet: infer Sheet): Grade;
}
  ? {
      definition: Definition;
      bench: Bench;
      state: State;
      action: Action;
      seen: Seen;
      view: View;
      brief: Brief;
      sheet: Sheet;
    }
  : never;

export type AnyDefinition = Parts<KindName>['definition'];
export type AnyBench = Parts<KindName>['bench'];
export type AnyState = Parts<KindName>['state'];
export type AnyAction = Parts<KindName>['action'];
export type AnySeen = Parts<KindName>['seen'];
export type AnyView = Parts<KindName>['view'];
export type AnyBrief = Parts<KindName>['brief'];
export type AnySheet = Parts<KindName>['sheet'];

function kindOf(named: { readonly kind: KindName }) {
  const kind = KINDS[named.kind];
  if (kind === undefined) throw new RangeError(`No kind of exercise is called "${String(named.kind)}".`);
  return kind;
}

/**
 * Draws a bench: object, dial, set-up and hidden condition. The same definition and seed always give the same bench.
 * @throws RangeError for an unknown kind or a definition that cannot be built.
 */
export function generateBench(definition: AnyDefinition, seed: string | number): AnyBench {
  return kindOf(definition).generate(definition, seed);
}

/** The bench as the student finds it. */
export function startBench(bench: AnyBench): AnyState {
  return kindOf(bench).start(bench);
}

/** One action: the next state, and what the student perceives of it. The state given is left alone; it never throws for an odd action. */
export function actOn(
  bench: AnyBench,
  state: AnyState,
  action: AnyAction,
): { state: AnyState; seen: AnySeen } {
  return kindOf(bench).act(bench, state, action);
}

/** What a person standing at the bench sees without doing anything. */
export function lookAt(bench: AnyBench, state: AnyState): AnyView {
  return kindOf(bench).look(bench, state);
}

/** What may be told of a bench before it is graded: plate, face of the gauge, specification. */
export function briefOfBench(bench: AnyBench): AnyBrief {
  return kindOf(bench).brief(bench);
}

/**
 * Grades an attempt: points by criterion, stops, remarks as codes with values, mistakes named, the truth of each lobe,
 * and the trace for the replay. A pure function of its arguments.
 */
export function gradeAttempt(bench: AnyBench, actions: readonly AnyAction[], sheet: AnySheet): Grade {
  return kindOf(bench).grade(bench, actions, sheet);
}
