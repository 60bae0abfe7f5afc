import { type TorqueHabits, tightenJoints } from '../../server/demonstrations/index.ts';
import { type ObservedWork, observing } from './carry-out.ts';

export type { TorqueHabits } from '../../server/demonstrations/index.ts';

/** A whole tightening job as an observer left it. */
export type TorqueAttempt = ObservedWork<'torque-adapter'>;

/** Works by the brief and by what is perceived alone; careful but for the habits. */
export const observeTorque = observing<'torque-adapter', TorqueHabits>((plate, _, habits) =>
  tightenJoints(plate, habits),
);
