import { type CheckHabits, checkIndicator } from '../../server/demonstrations/index.ts';
import { observing } from './carry-out.ts';

export { type CheckHabits, checkSheet as sheetFrom } from '../../server/demonstrations/index.ts';

/** A careful student who checks an indicator over gauge blocks, but for the habits. */
export const observeIndicatorCheck = observing<'indicator-check', CheckHabits>(checkIndicator);
