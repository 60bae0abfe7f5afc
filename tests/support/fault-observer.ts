import { type FaultHabits, findFault } from '../../server/demonstrations/index.ts';
import { observing } from './carry-out.ts';

export type { FaultHabits } from '../../server/demonstrations/index.ts';

/** A careful diagnostician who has only what is to be seen; careful but for the habits. */
export const observeFault = observing<'fault-finding', FaultHabits>(findFault);
