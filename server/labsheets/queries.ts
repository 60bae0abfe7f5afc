import { type Kysely, type Selectable, sql } from 'kysely';
import { keptQuery } from '../database/kept-query.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import type { DueRule } from './late.ts';
import type { LabSheetItemsTable } from './tables.ts';

export type LabSheetItem = Selectable<LabSheetItemsTable>;

/** An item as it is assigned to a student now. */
export interface AssignedToStudent {
  readonly item: LabSheetItem;
  readonly sectionId: number;
  /** Version and weights of its sheet: an attempt keeps them as they stood when it began. */
  readonly sheetVersion: number;
  readonly weights: string | null;
  readonly due: DueRule;
}

/**
 * An item assigned to the student through one of their sections, with the section it counts in.
 * With `sectionId` only that section is looked at; without, the first one in which it is assigned.
 * Throws NotFound when it isn't assigned to them.
 */
export async function getAssignedItem(
  db: Kysely<Database>,
  actor: Actor,
  itemId: number,
  sectionId?: number,
): Promise<AssignedToStudent> {
  let query = db
    .selectFrom('lab_sheet_items as item')
    .innerJoin('assignments', 'assignments.lab_sheet_id', 'item.lab_sheet_id')
    .innerJoin('section_students as seat', 'seat.section_id', 'assignments.section_id')
    .innerJoin('sections as section', 'section.id', 'seat.section_id')
    .innerJoin('lab_sheets as sheet', 'sheet.id', 'item.lab_sheet_id')
    .where('item.id', '=', itemId)
    .where('item.removed_at', 'is', null)
    .where('section.archived_at', 'is', null)
    .where('seat.person_id', '=', actor.id);
  if (sectionId !== undefined) query = query.where('assignments.section_id', '=', sectionId);
  const row = await query
    .selectAll('item')
    .select((eb) => [
      'assignments.section_id as sectionId',
      'sheet.version as sheetVersion',
      'sheet.weights',
      'assignments.due_at as dueAt',
      'assignments.late_percent as latePercent',
      'assignments.late_days as lateDays',
      eb
        .selectFrom('extensions')
        .whereRef('extensions.section_id', '=', 'assignments.section_id')
        .whereRef('extensions.lab_sheet_id', '=', 'item.lab_sheet_id')
        .where('extensions.person_id', '=', actor.id)
        .select('extensions.due_at')
        .orderBy('extensions.id', 'desc')
        .limit(1)
        .as('ownDueAt'),
    ])
    .orderBy('assignments.section_id')
    .executeTakeFirst();
  if (!row) throw new NotFound();
  const { sectionId: found, sheetVersion, weights, dueAt, ownDueAt, latePercent, lateDays, ...item } = row;
  const due = { dueAt: ownDueAt ?? dueAt, latePercent, lateDays };
  return { item, sectionId: found, sheetVersion, weights, due };
}

/** Every item assigned to a section, in the order of its sheets. The caller has made sure that the section is theirs to see. */
export function listSectionItems(db: Kysely<Database>, sectionId: number) {
  return db
    .selectFrom('lab_sheet_items as item')
    .innerJoin('lab_sheets as sheet', 'sheet.id', 'item.lab_sheet_id')
    .innerJoin('assignments', 'assignments.lab_sheet_id', 'item.lab_sheet_id')
    .where('assignments.section_id', '=', sectionId)
    .where('item.removed_at', 'is', null)
    .selectAll('item')
    .select('sheet.title as sheetTitle')
    .orderBy('sheet.id')
    .orderBy('item.ordinal')
    .execute();
}

const assignedOfKind = keptQuery((db, { personId, kind }: { personId: number; kind: string }) =>
  db
    .selectFrom('lab_sheet_items as item')
    .innerJoin('assignments', 'assignments.lab_sheet_id', 'item.lab_sheet_id')
    .innerJoin('section_students as seat', 'seat.section_id', 'assignments.section_id')
    .where('seat.person_id', '=', personId)
    .where('item.way', 'is not', null)
    .where('item.removed_at', 'is', null)
    .where((eb) => eb(sql<string>`json_extract(item.definition, '$.kind')`, '=', kind))
    .select(['item.id', 'item.title', 'seat.section_id as sectionId'])
    .orderBy('item.way', 'desc')
    .orderBy('item.id')
    .limit(1),
);

/** The first item of a kind that is assigned to the student, practice before graded runs; null where there is none. */
export async function findAssignedOfKind(
  db: Kysely<Database>,
  actor: Actor,
  kind: string,
): Promise<{ readonly id: number; readonly title: string; readonly sectionId: number } | null> {
  const [item] = await assignedOfKind(db, { personId: actor.id, kind });
  return item ?? null;
}
