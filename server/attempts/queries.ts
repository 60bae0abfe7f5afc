import { type Kysely, type Selectable, sql, type Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { AnyAction, Grade } from '../engine/index.ts';
import { canBegin } from '../kinds/index.ts';
import {
  type AssignedToStudent,
  definitionOf,
  furtherTriesOf,
  isClosed,
  triesFor,
} from '../labsheets/index.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import type { TypedSheet } from './schema.ts';
import type { AttemptsTables } from './tables.ts';

export type AttemptRow = Selectable<AttemptsTables['attempts']>;

/** An attempt of the student's own, with what its item and section are called. */
export interface OwnAttempt extends AttemptRow {
  readonly itemTitle: string;
  readonly sheetTitle: string;
  readonly sectionName: string;
  readonly tries: number | null;
  readonly handedInAt: string | null;
}

/** The student's own attempt. Throws NotFound when there is none of that id or it is another's. */
export async function getOwnAttempt(db: Kysely<Database>, actor: Actor, id: string): Promise<OwnAttempt> {
  const row = await db
    .selectFrom('attempts')
    .innerJoin('lab_sheet_items as item', 'item.id', 'attempts.item_id')
    .innerJoin('lab_sheets as sheet', 'sheet.id', 'item.lab_sheet_id')
    .innerJoin('sections as section', 'section.id', 'attempts.section_id')
    .leftJoin('hand_ins', 'hand_ins.attempt_id', 'attempts.id')
    .where('attempts.id', '=', id)
    .where('attempts.student_id', '=', actor.id)
    .selectAll('attempts')
    .select([
      'item.title as itemTitle',
      'item.tries',
      'sheet.title as sheetTitle',
      'section.name as sectionName',
      'hand_ins.at as handedInAt',
      furtherTriesOf({
        item: 'attempts.item_id',
        section: 'attempts.section_id',
        student: 'attempts.student_id',
      }).as('further'),
    ])
    .executeTakeFirst();
  if (!row) throw new NotFound();
  return { ...row, tries: triesFor(row.tries, row.further) };
}

/** The same, still open. Throws Conflict once it has been handed in. */
export async function getOwnOpenAttempt(db: Kysely<Database>, actor: Actor, id: string): Promise<OwnAttempt> {
  const attempt = await getOwnAttempt(db, actor, id);
  if (attempt.handedInAt !== null)
    throw new Conflict('This lab sheet has been handed in. Nothing more can be done on its engine.');
  return attempt;
}

export async function findOpenAttemptId(
  trx: Transaction<Database>,
  studentId: number,
  itemId: number,
  sectionId: number,
): Promise<string | undefined> {
  const row = await trx
    .selectFrom('attempts')
    .leftJoin('hand_ins', 'hand_ins.attempt_id', 'attempts.id')
    .where('attempts.student_id', '=', studentId)
    .where('attempts.item_id', '=', itemId)
    .where('attempts.section_id', '=', sectionId)
    .where('hand_ins.attempt_id', 'is', null)
    .select('attempts.id')
    .executeTakeFirst();
  return row?.id;
}

/**
 * Begins an attempt, or gives back the one that is open. Throws Conflict when the tries are used up, or
 * when its kind of exercise is not ready, from the bench to the graded page.
 * The definition is copied, so that a later edit of the sheet changes nothing here.
 */
export async function beginAttempt(
  trx: Transaction<Database>,
  actor: Actor,
  assigned: AssignedToStudent,
  fresh: { readonly id: string; readonly seed: string; readonly engineVersion: string; readonly at: string },
): Promise<string> {
  const { item, sectionId } = assigned;
  if (item.way === null || item.definition === null) throw new NotFound();
  if (!canBegin(definitionOf(item.definition, item.way).kind))
    throw new Conflict('This kind of exercise cannot be worked on here yet. Tell your instructor.');
  const open = await findOpenAttemptId(trx, actor.id, item.id, sectionId);
  if (open !== undefined) return open;
  if (isClosed(assigned.due, fresh.at))
    throw new Conflict(
      'This sheet is closed: its due date is past. Talk to your instructor about extra time.',
    );
  const { used, further } = await trx
    .selectFrom('attempts')
    .where('student_id', '=', actor.id)
    .where('item_id', '=', item.id)
    .where('section_id', '=', sectionId)
    .select([
      sql<number>`count(*)`.as('used'),
      furtherTriesOf({
        item: 'attempts.item_id',
        section: 'attempts.section_id',
        student: 'attempts.student_id',
      }).as('further'),
    ])
    .executeTakeFirstOrThrow();
  const tries = triesFor(item.tries, further);
  if (tries !== null && used >= tries) throw new Conflict('All tries are used. Talk to your instructor.');
  await trx
    .insertInto('attempts')
    .values({
      id: fresh.id,
      section_id: sectionId,
      item_id: item.id,
      student_id: actor.id,
      try_number: used + 1,
      way: item.way,
      definition: item.definition,
      seed: fresh.seed,
      engine_version: fresh.engineVersion,
      started_at: fresh.at,
      sheet_version: assigned.sheetVersion,
      weights: assigned.weights,
      hints: item.hints,
    })
    .execute();
  return fresh.id;
}

/** The whole log, in order. The caller has made sure that the attempt is theirs to see. */
export async function listActions(db: Kysely<Database>, attemptId: string): Promise<AnyAction[]> {
  const rows = await db
    .selectFrom('attempt_actions')
    .where('attempt_id', '=', attemptId)
    .select('action')
    .orderBy('seq')
    .execute();
  return rows.map(({ action }) => JSON.parse(action) as AnyAction);
}

/** What is typed and not yet handed in; nothing typed is an empty sheet. */
export async function findDraft(db: Kysely<Database>, attemptId: string): Promise<TypedSheet> {
  const row = await db
    .selectFrom('attempt_drafts')
    .where('attempt_id', '=', attemptId)
    .select('sheet')
    .executeTakeFirst();
  return row === undefined ? {} : (JSON.parse(row.sheet) as TypedSheet);
}

/** Keeps what is typed. Throws Conflict when the sheet has been handed in meanwhile. */
export async function saveDraft(
  trx: Transaction<Database>,
  attemptId: string,
  typed: TypedSheet,
  at: string,
): Promise<void> {
  const handedIn = await trx
    .selectFrom('hand_ins')
    .where('attempt_id', '=', attemptId)
    .select('at')
    .executeTakeFirst();
  if (handedIn) throw new Conflict('This lab sheet has been handed in. What was typed since is not kept.');
  const sheet = JSON.stringify(typed);
  await trx
    .insertInto('attempt_drafts')
    .values({ attempt_id: attemptId, sheet, saved_at: at })
    .onConflict((conflict) => conflict.column('attempt_id').doUpdateSet({ sheet, saved_at: at }))
    .execute();
}

export interface HandIn {
  readonly typed: TypedSheet;
  readonly sheet: unknown;
  readonly actionCount: number;
  readonly grade: Grade;
  readonly at: string;
}

/** Hands the sheet in with its grade. Throws Conflict when it already was, or when the log has grown since it was graded. */
export async function appendHandIn(
  trx: Transaction<Database>,
  attemptId: string,
  handIn: HandIn,
): Promise<void> {
  const already = await trx
    .selectFrom('hand_ins')
    .where('attempt_id', '=', attemptId)
    .select('at')
    .executeTakeFirst();
  if (already) throw new Conflict('This lab sheet has been handed in already.');
  const { count } = await trx
    .selectFrom('attempt_actions')
    .where('attempt_id', '=', attemptId)
    .select(sql<number>`count(*)`.as('count'))
    .executeTakeFirstOrThrow();
  if (count !== handIn.actionCount)
    throw new Conflict(
      'The engine was still being worked on in another window. Look the sheet over once more.',
    );
  const { grade, at } = handIn;
  await trx
    .insertInto('hand_ins')
    .values({
      attempt_id: attemptId,
      typed: JSON.stringify(handIn.typed),
      sheet: JSON.stringify(handIn.sheet),
      action_count: count,
      at,
    })
    .execute();
  // The trace is folded again when it is looked at: it is ten times the size of the rest.
  const { trace: _, ...kept } = grade;
  await trx
    .insertInto('grades')
    .values({
      attempt_id: attemptId,
      engine_version: grade.engineVersion,
      points: grade.total,
      stops: grade.stops.length,
      grade: JSON.stringify(kept),
      at,
    })
    .execute();
}
