import { readDials } from '../../server/demonstrations/index.ts';
import { type ObservedWork, observing } from './carry-out.ts';

export type DialReadingAttempt = ObservedWork<'dial-reading'>;

/** A careful student at the dials: watches each pointer, counts it on, and writes what was counted. */
export const observeDialReading = observing<'dial-reading', never>((plate) => readDials(plate));
