import type { Draws } from './draw-kit.ts';
import { BORE_DRAWS } from './draws-shop-bores.ts';
import { GEAR_DRAWS } from './draws-shop-gears.ts';
import { SHAFT_DRAWS } from './draws-shop-shafts.ts';

/** Numbers drawn for the lessons on the other jobs of the shop. */
export const SHOP_DRAWS: Draws = { ...SHAFT_DRAWS, ...GEAR_DRAWS, ...BORE_DRAWS };
