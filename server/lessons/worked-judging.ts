import type { WorkedNumbers } from './worked-kit.ts';

/** Numbers worked out in the lessons on judging readings and putting things together. */
export const JUDGING_WORKED: WorkedNumbers = {};
