import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import { furtherTriesOf, triesFor } from '../labsheets/index.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';

/** The last attempts of a section, the newest last: what is open, and how the others went. */
export async function listFloorAttempts(db: Kysely<Database>, sectionId: number) {
  const rows = await db
    .selectFrom('attempts as attempt')
    .innerJoin('section_students as seat', (join) =>
      join
        .onRef('seat.person_id', '=', 'attempt.student_id')
        .onRef('seat.section_id', '=', 'attempt.section_id'),
    )
    .innerJoin('lab_sheet_items as item', 'item.id', 'attempt.item_id')
    .leftJoin('hand_ins', 'hand_ins.attempt_id', 'attempt.id')
    .leftJoin('attempt_drafts as draft', 'draft.attempt_id', 'attempt.id')
    .where('attempt.section_id', '=', sectionId)
    .select((eb) => [
      'attempt.id',
      'attempt.student_id',
      'attempt.item_id',
      'attempt.try_number',
      'attempt.way',
      'attempt.definition',
      'attempt.seed',
      'attempt.started_at',
      'item.title',
      'item.tries',
      'hand_ins.at as handedInAt',
      'draft.saved_at as writtenAt',
      furtherTriesOf({
        item: 'attempt.item_id',
        section: 'attempt.section_id',
        student: 'attempt.student_id',
      }).as('further'),
      eb
        .selectFrom('grades')
        .whereRef('grades.attempt_id', '=', 'attempt.id')
        .select('grades.points')
        .orderBy('grades.id', 'desc')
        .limit(1)
        .as('points'),
    ])
    .orderBy('attempt.started_at')
    .orderBy('attempt.try_number')
    .execute();
  return rows.map((row) => ({ ...row, tries: triesFor(row.tries, row.further) }));
}

export type FloorAttempt = Awaited<ReturnType<typeof listFloorAttempts>>[number];

/** The last thing done in each of these attempts. */
export async function listLastActions(db: Kysely<Database>, attemptIds: readonly string[]) {
  if (attemptIds.length === 0) return new Map<string, { action: string; at: string }>();
  const rows = await db
    .selectFrom('attempt_actions as done')
    .where('done.attempt_id', 'in', attemptIds)
    .where('done.seq', '=', (eb) =>
      eb
        .selectFrom('attempt_actions as a')
        .whereRef('a.attempt_id', '=', 'done.attempt_id')
        .select((max) => max.fn.max('a.seq').as('seq')),
    )
    .select(['done.attempt_id', 'done.action', 'done.at'])
    .execute();
  return new Map(rows.map(({ attempt_id, action, at }) => [attempt_id, { action, at }]));
}

export interface Call {
  readonly id: number;
  readonly studentId: number;
  readonly at: string;
}

/** Calls of a section that nobody has answered, oldest first. */
export async function listCalls(db: Kysely<Database>, sectionId: number): Promise<readonly Call[]> {
  const rows = await db
    .selectFrom('calls')
    .leftJoin('call_answers as answer', 'answer.call_id', 'calls.id')
    .where('calls.section_id', '=', sectionId)
    .where('answer.call_id', 'is', null)
    .select(['calls.id', 'calls.student_id', 'calls.at'])
    .orderBy('calls.id')
    .execute();
  return rows.map(({ id, student_id, at }) => ({ id, studentId: student_id, at }));
}

/** The student's own call that nobody has answered yet, in the section of an attempt; null for none. */
export async function openCall(
  db: Kysely<Database>,
  studentId: number,
  sectionId: number,
): Promise<Call | null> {
  return (await listCalls(db, sectionId)).find((call) => call.studentId === studentId) ?? null;
}

/** Asks for somebody; asking twice changes nothing. */
export async function call(
  trx: Transaction<Database>,
  given: {
    readonly sectionId: number;
    readonly studentId: number;
    readonly attemptId: string | null;
    readonly at: string;
  },
): Promise<void> {
  if ((await openCall(trx, given.studentId, given.sectionId)) !== null) return;
  await trx
    .insertInto('calls')
    .values({
      section_id: given.sectionId,
      student_id: given.studentId,
      attempt_id: given.attemptId,
      at: given.at,
    })
    .execute();
}

/** Answers every open call of a student. */
export async function answerCalls(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  studentId: number,
  at: string,
): Promise<void> {
  for (const { id } of (await listCalls(trx, sectionId)).filter((one) => one.studentId === studentId))
    await trx.insertInto('call_answers').values({ call_id: id, answered_by: actor.id, at }).execute();
}

/** The student's own attempt, as far as a call needs it. Throws NotFound for another's. */
export async function ownAttempt(db: Kysely<Database>, actor: Actor, id: string) {
  const row = await db
    .selectFrom('attempts')
    .where('id', '=', id)
    .where('student_id', '=', actor.id)
    .select(['id', 'section_id'])
    .executeTakeFirst();
  if (!row) throw new NotFound();
  return row;
}
