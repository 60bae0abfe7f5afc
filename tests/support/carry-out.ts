import type { Finished, Work } from '../../server/demonstrations/index.ts';
import {
  type ActionOf,
  act,
  type BenchOf,
  type BriefOf,
  brief,
  type DefinitionOf,
  generateBench,
  type KindName,
  lookAt,
  type SheetOf,
  startBench,
  type ViewOf,
} from '../../server/engine/index.ts';

/** Carries work out on a bench of the engine, with no page between: what was done, and what the work came back with. */
export function carryOut<K extends KindName, Result>(
  bench: BenchOf<K>,
  begin: (first: ViewOf<K>) => Work<K, Result>,
): { readonly actions: readonly ActionOf<K>[]; readonly result: Result } {
  // The compiler cannot see that a bench of a kind has that kind's name.
  const named = bench as BenchOf<K> & { readonly kind: K };
  const actions: ActionOf<K>[] = [];
  let state = startBench<K>(named);
  const work = begin(lookAt<K>(named, state));
  let next = work.next();
  while (!next.done) {
    const done = act<K>(named, state, next.value);
    state = done.state;
    actions.push(next.value);
    next = work.next(done.seen);
  }
  return { actions, result: next.value };
}

/** A whole attempt as an observer left it. */
export interface ObservedWork<K extends KindName> {
  readonly bench: BenchOf<K>;
  readonly actions: readonly ActionOf<K>[];
  readonly sheet: SheetOf<K>;
}

/** Somebody at a bench of a kind, who works as these hands do. */
export function observing<K extends KindName, Habits>(
  hands: (plate: BriefOf<K>, first: ViewOf<K>, habits?: Habits) => Work<K, Finished<K>>,
) {
  return (
    definition: { readonly kind: K } & DefinitionOf<K>,
    seed: string | number,
    habits?: Habits,
  ): ObservedWork<K> => {
    const bench = generateBench<K>(definition, seed);
    const plate = brief<K>(bench as BenchOf<K> & { readonly kind: K });
    const { actions, result } = carryOut<K, Finished<K>>(bench, (first) => hands(plate, first, habits));
    return { bench, actions, sheet: result.sheet };
  };
}
