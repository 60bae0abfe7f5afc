import type { ActionOf, KindName, SeenOf, SheetOf } from '../engine/index.ts';

/** Work at a bench, a step at a time: it gives out what is done next, takes in what was seen of it, and comes back with a result. */
export type Work<K extends KindName, Result = void> = Generator<ActionOf<K>, Result, SeenOf<K>>;

/** What a whole piece of work comes back with. */
export interface Finished<K extends KindName> {
  readonly sheet: SheetOf<K>;
}
