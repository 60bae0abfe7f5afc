import type { WorkedNumbers } from './worked-kit.ts';

/** Numbers worked out in the lessons on the other jobs of the shop. */
export const SHOP_WORKED: WorkedNumbers = {};
