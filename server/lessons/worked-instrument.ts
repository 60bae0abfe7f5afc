import type { WorkedNumbers } from './worked-kit.ts';

/** Numbers worked out in the lessons on the indicator and its set-up. */
export const INSTRUMENT_WORKED: WorkedNumbers = {};
