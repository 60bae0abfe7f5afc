import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import { newCode } from '../web/short-code.ts';
import { type PlannedStudent, planRoster } from './roster-plan.ts';
import type { RosterRow } from './roster-row.ts';
import { seat } from './roster-take.ts';

/** So many may wait at a section; then somebody plays with it, or the instructor is long behind. */
const MOST_WAITING = 100;

/** Somebody who asks to be put on a roster. */
export interface Asking {
  readonly id: number;
  readonly row: RosterRow;
  readonly at: string;
}

/** The running section with this code; null where there is none. */
export async function findByCode(
  db: Kysely<Database>,
  code: string,
): Promise<{ readonly id: number; readonly name: string; readonly term: string } | null> {
  const row = await db
    .selectFrom('sections')
    .where('join_code', '=', code)
    .where('archived_at', 'is', null)
    .select(['id', 'name', 'term'])
    .executeTakeFirst();
  return row ?? null;
}

/** The code with which students may ask; null where nobody may. The caller has made sure that the section is theirs. */
export async function getJoinCode(db: Kysely<Database>, sectionId: number): Promise<string | null> {
  const row = await db
    .selectFrom('sections')
    .where('id', '=', sectionId)
    .select('join_code')
    .executeTakeFirstOrThrow();
  return row.join_code;
}

/** Lets students ask, with a new code, or lets nobody ask any more. An old code is worth nothing from then on. */
export async function setAsking(trx: Transaction<Database>, sectionId: number, open: boolean): Promise<void> {
  await trx
    .updateTable('sections')
    .set({ join_code: open ? newCode() : null })
    .where('id', '=', sectionId)
    .execute();
}

/** Keeps that somebody asks; the same number asking again counts once, as it was written last. Throws Conflict where too many wait. */
export async function ask(
  trx: Transaction<Database>,
  sectionId: number,
  row: Omit<RosterRow, 'line'>,
  at: string,
): Promise<void> {
  const { n } = await trx
    .selectFrom('join_requests')
    .where('section_id', '=', sectionId)
    .select((eb) => eb.fn.countAll<number>().as('n'))
    .executeTakeFirstOrThrow();
  if (n >= MOST_WAITING)
    throw new Conflict(
      'Too many wait at this section already. Ask your instructor to look through them first.',
    );
  const words = { given_name: row.givenName, family_name: row.familyName, email: row.email, at };
  await trx
    .insertInto('join_requests')
    .values({ section_id: sectionId, student_number: row.studentNumber, ...words })
    .onConflict((conflict) => conflict.columns(['section_id', 'student_number']).doUpdateSet(words))
    .execute();
}

/** Everybody who asks, the first first. The caller has made sure that the section is theirs. */
export async function listAsking(db: Kysely<Database>, sectionId: number): Promise<readonly Asking[]> {
  const rows = await db
    .selectFrom('join_requests')
    .where('section_id', '=', sectionId)
    .selectAll()
    .orderBy('id')
    .execute();
  return rows.map((one) => ({
    id: one.id,
    at: one.at,
    row: {
      line: one.id,
      givenName: one.given_name,
      familyName: one.family_name,
      studentNumber: one.student_number,
      email: one.email,
    },
  }));
}

/** What putting them on the roster would do, or why it cannot be done. */
export async function planAsking(
  db: Kysely<Database>,
  actor: Actor,
  sectionId: number,
  { row }: Asking,
): Promise<PlannedStudent | { readonly problem: string }> {
  const planned = await planRoster(db, actor, sectionId, [row]);
  if ('problems' in planned) return { problem: planned.problems[0]?.message ?? '' };
  const [student] = planned.plan.students;
  if (student === undefined) throw new Error('A plan of one row has one student.');
  return student;
}

/**
 * Puts somebody who asked on the roster, or does not; either way they no longer wait. Somebody known here stays as they are known: whoever types
 * a number does not rename its owner. Throws NotFound, or Conflict where they cannot be put on it.
 */
export async function answerAsking(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  given: { readonly requestId: number; readonly take: boolean; readonly at: string },
): Promise<void> {
  const asking = (await listAsking(trx, sectionId)).find(({ id }) => id === given.requestId);
  if (asking === undefined) throw new NotFound('This has been answered already.');
  if (given.take) {
    const planned = await planAsking(trx, actor, sectionId, asking);
    if ('problem' in planned) throw new Conflict(planned.problem);
    await seat(trx, actor, sectionId, { ...planned, differs: [] }, given.at);
  }
  await trx.deleteFrom('join_requests').where('id', '=', asking.id).execute();
}
