import { type Kysely, type Selectable, sql } from 'kysely';
import { keptQuery } from '../database/kept-query.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import type { LabSheetItemsTable } from './tables.ts';

export type LabSheetItem = Selectable<LabSheetItemsTable>;

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
): Promise<{ readonly item: LabSheetItem; readonly sectionId: number }> {
  let query = db
    .selectFrom('lab_sheet_items as item')
    .innerJoin('assignments', 'assignments.lab_sheet_id', 'item.lab_sheet_id')
    .innerJoin('section_students as seat', 'seat.section_id', 'assignments.section_id')
    .where('item.id', '=', itemId)
    .where('seat.person_id', '=', actor.id);
  if (sectionId !== undefined) query = query.where('assignments.section_id', '=', sectionId);
  const row = await query
    .selectAll('item')
    .select('assignments.section_id as sectionId')
    .orderBy('assignments.section_id')
    .executeTakeFirst();
  if (!row) throw new NotFound();
  const { sectionId: found, ...item } = row;
  return { item, sectionId: found };
}

/** Every item assigned to a section, in the order of its sheets. The caller has made sure that the section is theirs to see. */
export function listSectionItems(db: Kysely<Database>, sectionId: number) {
  return db
    .selectFrom('lab_sheet_items as item')
    .innerJoin('lab_sheets as sheet', 'sheet.id', 'item.lab_sheet_id')
    .innerJoin('assignments', 'assignments.lab_sheet_id', 'item.lab_sheet_id')
    .where('assignments.section_id', '=', sectionId)
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
    .where('item.definition', 'is not', null)
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
