import type { Kysely, Transaction } from 'kysely';
import { displayName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import type { CoordinatorsWord } from './evidence.ts';
import { requireCoordinator } from './queries.ts';

/** A coordinator's word as it stands in the record. */
export interface WordLine extends CoordinatorsWord {
  readonly id: number;
  readonly reason: string;
  readonly who: string;
}

/** Every word on one person and one competency up to `asOf`, newest first. */
export async function listWordsOn(
  db: Kysely<Database>,
  competencyId: number,
  studentId: number,
  asOf: string,
): Promise<readonly WordLine[]> {
  const rows = await db
    .selectFrom('competency_words as said')
    .innerJoin('people as person', 'person.id', 'said.said_by')
    .where('said.competency_id', '=', competencyId)
    .where('said.student_id', '=', studentId)
    .where('said.at', '<=', asOf)
    .select(['said.id', 'said.word', 'said.reason', 'said.at', 'person.given_name', 'person.family_name'])
    .orderBy('said.id', 'desc')
    .execute();
  return rows.map(({ given_name, family_name, ...row }) => ({
    ...row,
    who: displayName({ given_name, family_name }),
  }));
}

/** Keeps a coordinator's word. Nothing is written over. */
export async function appendWord(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly competencyId: number;
    readonly studentId: number;
    readonly word: CoordinatorsWord['word'];
    readonly reason: string;
    readonly at: string;
  },
): Promise<void> {
  requireCoordinator(actor);
  await trx
    .insertInto('competency_words')
    .values({
      competency_id: given.competencyId,
      student_id: given.studentId,
      word: given.word,
      reason: given.reason,
      said_by: actor.id,
      at: given.at,
    })
    .execute();
}
