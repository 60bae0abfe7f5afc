import { measureValves, type ValveHabits } from '../../server/demonstrations/index.ts';
import { observing } from './carry-out.ts';

export { type ReadLengths, type ValveHabits, writtenValve } from '../../server/demonstrations/index.ts';

/** A careful student at a valve train, but for the habits; who uses only what can be seen and felt. */
export const observeValves = observing<'valve-lift', ValveHabits>(measureValves);
