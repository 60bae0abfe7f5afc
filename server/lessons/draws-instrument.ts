import type { Draws } from './draw-kit.ts';

/** Numbers drawn for the lessons on the indicator and its set-up. */
export const INSTRUMENT_DRAWS: Draws = {};
