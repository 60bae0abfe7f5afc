import { z } from 'zod';
import { DIALS, type DialName } from '../engine/index.ts';

const position = z.int().min(1).max(12);

/** One action as it may come in from a page; the engine decides whether it can be done. */
const action = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('choose-gauge'), gauge: z.enum(Object.keys(DIALS) as DialName[]) }),
  z.strictObject({ type: z.literal('choose-rod'), rod: z.int().min(1).max(12) }),
  z.strictObject({ type: z.literal('look-up'), letter: z.string().max(8).optional() }),
  z.strictObject({ type: z.literal('tally') }),
  z.strictObject({ type: z.literal('move'), position }),
  z.strictObject({ type: z.literal('inspect') }),
  z.strictObject({ type: z.literal('seat') }),
  z.strictObject({ type: z.literal('turn-tappet') }),
  z.strictObject({ type: z.literal('press') }),
  z.strictObject({ type: z.literal('preload'), turns: z.number().min(0).max(100) }),
  z.strictObject({ type: z.literal('align'), square: z.literal(true).optional() }),
  z.strictObject({ type: z.literal('tighten'), part: z.enum(['arm', 'base', 'rod']) }),
  z.strictObject({ type: z.literal('lift-tip') }),
  z.strictObject({ type: z.literal('zero') }),
  z.strictObject({ type: z.literal('clamp') }),
  z.strictObject({ type: z.literal('unclamp') }),
  z.strictObject({
    type: z.literal('bar'),
    degrees: z.number().min(-360).max(360),
    speed: z.number().min(1).max(120).optional(),
    hold: z.number().min(0).max(60).optional(),
  }),
  z.strictObject({
    type: z.literal('note'),
    position,
    reading: z.union([z.literal(1), z.literal(2)]),
    box: z.enum(['counterBefore', 'counterHigh', 'turns', 'pointer', 'lift', 'returned']),
  }),
]);

/** Actions in order; `from` is the place in the log of the first, so that a batch sent twice is kept once. */
export const actionsBody = z.strictObject({
  from: z.int().min(0).max(1_000_000),
  actions: z.array(action).min(1).max(50),
});

export type ActionsBody = z.infer<typeof actionsBody>;

/** What is typed on the sheet, box by box. Names are `position.reading.box` or `position.line`. */
export const typedSheet = z.record(
  z.string().regex(/^\d{1,2}(\.[12])?\.[a-zA-Z]{1,20}$/),
  z.string().max(60),
);

export type TypedSheet = z.infer<typeof typedSheet>;

export const draftBody = z.strictObject({ typed: typedSheet });
