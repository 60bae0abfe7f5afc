import { type BoreHabits, measureBore } from '../../server/demonstrations/index.ts';
import { observing } from './carry-out.ts';

export { type BoreHabits, boreSheet } from '../../server/demonstrations/index.ts';

/** A careful student with a bore gauge, but for the habits; who uses only what can be seen. */
export const observeBore = observing<'bore-gauge', BoreHabits>(measureBore);
