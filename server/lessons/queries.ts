import type { Kysely, Transaction } from 'kysely';
import { keptQuery } from '../database/kept-query.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';

/** What this reader has answered so far to one question. */
export interface OwnAnswers {
  readonly tries: number;
  readonly last: { readonly answer: string; readonly correct: boolean };
  readonly everRight: boolean;
}

const answersOf = keptQuery((db, { personId, slug }: { personId: number; slug: string | null }) =>
  db
    .selectFrom('lesson_answers')
    .select(['lesson_slug', 'question_id', 'answer', 'correct'])
    .where('person_id', '=', personId)
    .where((eb) => eb('lesson_slug', '=', eb.fn.coalesce(eb.val(slug), 'lesson_slug')))
    .orderBy('id'),
);

/** The actor's own answers, by lesson and question. Nobody else's are ever read here. */
export async function listOwnAnswers(
  db: Kysely<Database>,
  actor: Actor,
  slug?: string,
): Promise<ReadonlyMap<string, OwnAnswers>> {
  const found = new Map<string, OwnAnswers>();
  for (const row of await answersOf(db, { personId: actor.id, slug: slug ?? null })) {
    const key = answerKey(row.lesson_slug, row.question_id);
    const before = found.get(key);
    const correct = row.correct === 1;
    found.set(key, {
      tries: (before?.tries ?? 0) + 1,
      last: { answer: row.answer, correct },
      everRight: correct || (before?.everRight ?? false),
    });
  }
  return found;
}

export function answerKey(slug: string, questionId: string): string {
  return `${slug}/${questionId}`;
}

/** Adds an answer if it is still the next one; false when another tab has been quicker. */
export async function appendAnswer(
  trx: Transaction<Database>,
  actor: Actor,
  answer: {
    readonly slug: string;
    readonly questionId: string;
    readonly tries: number;
    readonly answer: string;
    readonly correct: boolean;
    readonly at: string;
  },
): Promise<boolean> {
  const { before } = await trx
    .selectFrom('lesson_answers')
    .select((eb) => eb.fn.countAll<number>().as('before'))
    .where('person_id', '=', actor.id)
    .where('lesson_slug', '=', answer.slug)
    .where('question_id', '=', answer.questionId)
    .executeTakeFirstOrThrow();
  if (Number(before) !== answer.tries) return false;
  await trx
    .insertInto('lesson_answers')
    .values({
      person_id: actor.id,
      lesson_slug: answer.slug,
      question_id: answer.questionId,
      answer: answer.answer,
      correct: answer.correct ? 1 : 0,
      at: answer.at,
    })
    .execute();
  return true;
}
