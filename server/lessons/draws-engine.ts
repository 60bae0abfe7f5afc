import type { Draws } from './draw-kit.ts';

/** Numbers drawn for the lessons on engines, cams and injection. */
export const ENGINE_DRAWS: Draws = {};
