import type { Kysely, Transaction } from 'kysely';
import { displayName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';

/** What was poor, what was changed for it, by whom and when. */
export interface Improvement {
  readonly found: string;
  readonly changed: string;
  readonly who: string;
  readonly at: string;
}

/** Newest first. */
export async function listImprovements(db: Kysely<Database>): Promise<readonly Improvement[]> {
  const rows = await db
    .selectFrom('improvements as one')
    .innerJoin('people as who', 'who.id', 'one.noted_by')
    .select(['one.found', 'one.changed', 'one.at', 'who.given_name', 'who.family_name'])
    .orderBy('one.id', 'desc')
    .execute();
  return rows.map((row) => ({ found: row.found, changed: row.changed, at: row.at, who: displayName(row) }));
}

export async function noteImprovement(
  trx: Transaction<Database>,
  actor: Actor,
  note: { readonly found: string; readonly changed: string; readonly at: string },
): Promise<void> {
  await trx
    .insertInto('improvements')
    .values({ ...note, noted_by: actor.id })
    .execute();
}
