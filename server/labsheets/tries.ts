import { type Kysely, type RawBuilder, sql, type Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';

/** How many further tries one person was given at an item, inside a query: the columns say whose, at what, in which section. */
export function furtherTriesOf(columns: {
  readonly item: string;
  readonly section: string;
  readonly student: string;
}): RawBuilder<number> {
  return sql<number>`(SELECT count(*) FROM further_tries further WHERE further.item_id = ${sql.ref(columns.item)}
    AND further.section_id = ${sql.ref(columns.section)} AND further.student_id = ${sql.ref(columns.student)})`;
}

/** How many tries there are for one person; null is as many as wanted. */
export function triesFor(tries: number | null, further: number): number | null {
  return tries === null ? null : tries + further;
}

/** Gives one person one more try at the item of an attempt that was handed in. The caller has made sure that the attempt is in a section of theirs. */
export async function giveFurtherTry(
  trx: Transaction<Database>,
  given: { readonly attemptId: string; readonly reason: string; readonly by: number; readonly at: string },
): Promise<void> {
  const attempt = await trx
    .selectFrom('attempts')
    .where('id', '=', given.attemptId)
    .select(['section_id', 'item_id', 'student_id'])
    .executeTakeFirstOrThrow();
  await trx
    .insertInto('further_tries')
    .values({
      ...attempt,
      attempt_id: given.attemptId,
      reason: given.reason,
      given_by: given.by,
      at: given.at,
    })
    .execute();
}

/** The further tries given after an attempt, oldest first, with who gave them. */
export function listFurtherTries(db: Kysely<Database>, attemptId: string) {
  return db
    .selectFrom('further_tries as further')
    .innerJoin('people as person', 'person.id', 'further.given_by')
    .where('further.attempt_id', '=', attemptId)
    .select(['further.id', 'further.reason', 'further.at', 'person.given_name', 'person.family_name'])
    .orderBy('further.id')
    .execute();
}
