import type { Draws } from './draw-kit.ts';

/** Numbers drawn for the lessons on judging readings and writing them up. */
export const JUDGING_DRAWS: Draws = {};
