import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import type { DueRule } from './late.ts';
import type { Counts } from './tables.ts';

/** A sheet as a section has it. */
export interface Assignment extends DueRule {
  readonly sheetId: number;
  readonly sectionId: number;
  readonly title: string;
  /** ISO 8601 in UTC. */
  readonly assignedAt: string;
  readonly counts: Counts;
  /** How many of the section have begun something of it. */
  readonly begun: number;
}

/** The sheets of a section, as they were assigned. The caller has made sure that the section is theirs to see. */
export async function listAssignments(
  db: Kysely<Database>,
  sectionId: number,
): Promise<readonly Assignment[]> {
  const rows = await assignments(db).where('assigned.section_id', '=', sectionId).execute();
  return rows.map(toAssignment);
}

/** The sections a sheet is assigned to, anybody's. */
export async function listSectionsOf(db: Kysely<Database>, sheetId: number): Promise<readonly number[]> {
  const rows = await db
    .selectFrom('assignments')
    .where('lab_sheet_id', '=', sheetId)
    .select('section_id')
    .execute();
  return rows.map(({ section_id }) => section_id);
}

/** One of them. Throws NotFound. */
export async function getAssignment(
  db: Kysely<Database>,
  sectionId: number,
  sheetId: number,
): Promise<Assignment> {
  const row = await assignments(db)
    .where('assigned.section_id', '=', sectionId)
    .where('assigned.lab_sheet_id', '=', sheetId)
    .executeTakeFirst();
  if (!row) throw new NotFound();
  return toAssignment(row);
}

function assignments(db: Kysely<Database>) {
  return db
    .selectFrom('assignments as assigned')
    .innerJoin('lab_sheets as sheet', 'sheet.id', 'assigned.lab_sheet_id')
    .selectAll('assigned')
    .select((eb) => [
      'sheet.title',
      eb
        .selectFrom('attempts')
        .innerJoin('lab_sheet_items as item', 'item.id', 'attempts.item_id')
        .whereRef('item.lab_sheet_id', '=', 'sheet.id')
        .whereRef('attempts.section_id', '=', 'assigned.section_id')
        .select((count) => count.fn.count<number>('attempts.student_id').distinct().as('n'))
        .$asScalar()
        .$notNull()
        .as('begun'),
    ])
    .orderBy('assigned.assigned_at')
    .orderBy('sheet.id');
}

type Row = Awaited<ReturnType<ReturnType<typeof assignments>['execute']>>[number];

function toAssignment(row: Row): Assignment {
  return {
    sheetId: row.lab_sheet_id,
    sectionId: row.section_id,
    title: row.title,
    assignedAt: row.assigned_at,
    dueAt: row.due_at,
    latePercent: row.late_percent,
    lateDays: row.late_days,
    counts: row.counts,
    begun: row.begun,
  };
}

export interface AssignmentTerms extends DueRule {
  readonly counts: Counts;
}

/** Assigns a sheet to a section, or sets its dates anew. The caller has made sure that both are theirs. */
export async function assignSheet(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly sectionId: number;
    readonly sheetId: number;
    readonly terms: AssignmentTerms;
    readonly at: string;
  },
): Promise<void> {
  const { dueAt, latePercent, lateDays, counts } = given.terms;
  const terms = { due_at: dueAt, late_percent: latePercent, late_days: lateDays, counts };
  await trx
    .insertInto('assignments')
    .values({
      section_id: given.sectionId,
      lab_sheet_id: given.sheetId,
      assigned_at: given.at,
      assigned_by: actor.id,
      ...terms,
    })
    .onConflict((conflict) => conflict.columns(['section_id', 'lab_sheet_id']).doUpdateSet(terms))
    .execute();
}

/** Takes a sheet off a section. Throws Conflict once anybody has begun it: their work would be out of sight. */
export async function withdrawSheet(
  trx: Transaction<Database>,
  sectionId: number,
  sheetId: number,
): Promise<void> {
  const { begun } = await getAssignment(trx, sectionId, sheetId);
  if (begun > 0)
    throw new Conflict(
      'Somebody has begun this sheet. It stays; set a due date in the past to end it instead.',
    );
  await trx
    .deleteFrom('assignments')
    .where('section_id', '=', sectionId)
    .where('lab_sheet_id', '=', sheetId)
    .execute();
}

/** Extra time that holds now, by person. */
export async function listExtensions(db: Kysely<Database>, sectionId: number, sheetId: number) {
  const rows = await db
    .selectFrom('extensions')
    .where('section_id', '=', sectionId)
    .where('lab_sheet_id', '=', sheetId)
    .select(['person_id', 'due_at', 'reason', 'at'])
    .orderBy('id')
    .execute();
  return new Map(rows.map((row) => [row.person_id, { dueAt: row.due_at, reason: row.reason, at: row.at }]));
}

/** Gives one person a due date of their own. The caller has made sure that the person is on the section's roster. */
export async function giveExtraTime(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly sectionId: number;
    readonly sheetId: number;
    readonly personId: number;
    readonly dueAt: string;
    readonly reason: string;
    readonly at: string;
  },
): Promise<void> {
  await getAssignment(trx, given.sectionId, given.sheetId);
  await trx
    .insertInto('extensions')
    .values({
      section_id: given.sectionId,
      lab_sheet_id: given.sheetId,
      person_id: given.personId,
      due_at: given.dueAt,
      reason: given.reason,
      given_by: actor.id,
      at: given.at,
    })
    .execute();
}

/** What holds for one person: their own due date where they have one. */
export function dueFor(assignment: DueRule, extension: { readonly dueAt: string } | undefined): DueRule {
  const { latePercent, lateDays } = assignment;
  return { dueAt: extension?.dueAt ?? assignment.dueAt, latePercent, lateDays };
}
