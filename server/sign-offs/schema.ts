import { z } from 'zod';

const clientId = z.string().regex(/^[\w-]{8,64}$/);
/** The phone's clock; what is no moment at all is refused, one that is merely wrong is kept as it is. */
const madeAt = z.iso.datetime({ offset: true });
const note = z.string().trim().max(300);

const tick = z.strictObject({
  kind: z.literal('tick'),
  ...{ clientId, madeAt, note },
  step: z.number().int().min(0).max(99),
  state: z.enum(['alone', 'with-prompt', 'not-done', 'not-seen']),
});
const reading = z.strictObject({
  kind: z.literal('reading'),
  ...{ clientId, madeAt },
  typed: z.record(z.string().max(20), z.string().max(300)),
});
const signature = z.strictObject({
  kind: z.literal('signature'),
  ...{ clientId, madeAt },
  role: z.enum(['student', 'assessor']),
  pin: z.string().max(8),
});

/** What a phone sends: everything it has put down since it last got through, in order. */
export const entriesForm = z.strictObject({
  entries: z
    .array(z.discriminatedUnion('kind', [tick, reading, signature]))
    .min(1)
    .max(200),
});
export type Entry = z.output<typeof entriesForm>['entries'][number];

/** The boxes of a reading, by name. */
export const READING_BOXES = [
  ...['high', 'back', 'second', 'lift', 'verdict', 'followUp', 'reason', 'torques'],
] as const;
