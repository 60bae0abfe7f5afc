import { type CurveHabits, plotLobe } from '../../server/demonstrations/index.ts';
import { observing } from './carry-out.ts';

export type { CurveHabits } from '../../server/demonstrations/index.ts';

/** Plots a lobe with only what can be seen, careful but for the habits. */
export const observeLiftCurve = observing<'lift-curve', CurveHabits>(plotLobe);
