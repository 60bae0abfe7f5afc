import type { WorkedNumbers } from './worked-kit.ts';

/** Numbers worked out in the lessons on engines, cams and injection. */
export const ENGINE_WORKED: WorkedNumbers = {};
