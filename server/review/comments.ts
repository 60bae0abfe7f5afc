import type { Kysely, Transaction } from 'kysely';
import { displayName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import { listFurtherTries } from '../labsheets/index.ts';
import { timeWords } from '../web/words/index.ts';

/** What an instructor said of a whole attempt. */
export interface CommentView {
  readonly words: string;
  readonly who: string;
  readonly at: string;
  readonly when: string;
  /** Was another try given with it? */
  readonly furtherTry: boolean;
}

/** Every comment on an attempt and every further try given after it, oldest first. */
export async function listComments(db: Kysely<Database>, attemptId: string): Promise<readonly CommentView[]> {
  const comments = await db
    .selectFrom('attempt_comments as comment')
    .innerJoin('people as person', 'person.id', 'comment.written_by')
    .where('comment.attempt_id', '=', attemptId)
    .select(['comment.words', 'comment.at', 'person.given_name', 'person.family_name'])
    .orderBy('comment.id')
    .execute();
  const tries = await listFurtherTries(db, attemptId);
  return [
    ...comments.map((row) => ({ ...row, furtherTry: false })),
    ...tries.map(({ reason, ...row }) => ({ ...row, words: reason, furtherTry: true })),
  ]
    .sort((one, other) => (one.at < other.at ? -1 : 1))
    .map(({ words, at, furtherTry, ...person }) => ({
      ...{ words, at, furtherTry },
      who: displayName(person),
      when: timeWords(at),
    }));
}

interface Said {
  readonly attemptId: string;
  readonly by: number;
  readonly at: string;
}

/** Keeps a comment, for the student to read. */
export async function appendComment(
  trx: Transaction<Database>,
  { attemptId, words, by, at }: Said & { readonly words: string },
): Promise<void> {
  await trx
    .insertInto('attempt_comments')
    .values({ attempt_id: attemptId, words, written_by: by, at })
    .execute();
}

/** Keeps that an attempt was looked at and nothing was to be done. */
export async function appendLook(trx: Transaction<Database>, { attemptId, by, at }: Said): Promise<void> {
  await trx.insertInto('attempt_looks').values({ attempt_id: attemptId, looked_by: by, at }).execute();
}
