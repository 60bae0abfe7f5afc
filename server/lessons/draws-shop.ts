import type { Draws } from './draw-kit.ts';

/** Numbers drawn for the lessons on the other jobs of the shop. */
export const SHOP_DRAWS: Draws = {};
