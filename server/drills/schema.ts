import { z } from 'zod';

/** One thing done at a dial, as it may come in from a page; the engine decides whether it can be done. */
const action = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('watch'), speed: z.number().positive().max(5) }),
  z.strictObject({ type: z.literal('watch-back'), speed: z.number().positive().max(5) }),
]);

/** Actions in order; `from` is the place in the log of the first, so that a batch sent twice is kept once. */
export const drillActionsBody = z.strictObject({
  from: z.int().min(0).max(10_000),
  actions: z.array(action).min(1).max(20),
});

const box = z.string().max(40, 'This is longer than a reading can be.').default('');

/** The boxes of a dial, as typed. */
export const drillBoxes = z.object({
  turns: box,
  pointer: box,
  counterBefore: box,
  counterAfter: box,
  reading: box,
});

export type DrillBoxes = z.infer<typeof drillBoxes>;
