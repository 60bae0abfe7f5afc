import { z } from 'zod';
import type { AnyAction, KindName } from '../engine/index.ts';
import { deskOf } from '../kinds/index.ts';

export interface ActionsBody {
  /** Place in the log of the first, so that a batch sent twice is kept once. */
  readonly from: number;
  readonly actions: readonly AnyAction[];
}

const schemas = new Map<KindName, z.ZodType<ActionsBody>>();

/** A batch of actions at a bench of a kind, in order, as it may come in. */
export function actionsBody(kind: KindName): z.ZodType<ActionsBody> {
  const known = schemas.get(kind);
  if (known !== undefined) return known;
  const schema: z.ZodType<ActionsBody> = z.strictObject({
    from: z.int().min(0).max(1_000_000),
    actions: z.array(deskOf(kind).action).min(1).max(50),
  });
  schemas.set(kind, schema);
  return schema;
}

/** What is typed on the sheet, box by box. */
export const typedSheet = z.record(
  z.string().regex(/^[a-zA-Z0-9-]{1,24}(\.[a-zA-Z0-9-]{1,24}){0,3}$/),
  z.string().max(60),
);

export type TypedSheet = z.infer<typeof typedSheet>;

export const draftBody = z.strictObject({ typed: typedSheet });
