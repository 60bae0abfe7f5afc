import { type Kysely, sql } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { type DueRule, isClosed } from './late.ts';
import type { ItemKind, Way } from './tables.ts';
import { furtherTriesOf, triesFor } from './tries.ts';

/** One item as its student sees it in the list. */
export interface AssignedItem {
  readonly id: number;
  readonly title: string;
  readonly kind: ItemKind;
  readonly lessonSlug: string | null;
  readonly way: Way | null;
  /** How many tries there are; null is as many as wanted. */
  readonly tries: number | null;
  readonly triesUsed: number;
  /** How many of the tries an instructor gave on top. */
  readonly further: number;
  /** The attempt that has been begun and not handed in. */
  readonly openAttemptId: string | null;
  /** The last attempt handed in, with its points out of 100 and its stops. */
  readonly result: {
    readonly attemptId: string;
    readonly points: number | null;
    readonly stops: number;
    /** Has an instructor written something to it? */
    readonly comments: boolean;
  } | null;
  /** `lesson` for a lesson and for questions; `shop` for work on a shop engine. */
  readonly state: 'lesson' | 'shop' | 'not-started' | 'open' | 'handed-in';
  /** It was taken off the sheet after it had been worked on. */
  readonly removed: boolean;
  readonly mayStart: boolean;
}

export interface AssignedSheet {
  readonly id: number;
  readonly sectionId: number;
  readonly sectionName: string;
  readonly title: string;
  readonly introduction: string;
  /** When it is due for this student; null is never. */
  readonly due: DueRule;
  /** The section's own clock. */
  readonly timeZone: string;
  /** Nothing of it can be begun any more. */
  readonly closed: boolean;
  readonly items: readonly AssignedItem[];
}

/** The student's lab sheets in all their sections, with how far each item has come. */
export async function listAssigned(
  db: Kysely<Database>,
  actor: Actor,
  now: string,
): Promise<AssignedSheet[]> {
  const rows = await assignedRows(db, actor.id);
  const sheets = new Map<string, AssignedSheet & { items: AssignedItem[] }>();
  for (const row of rows) {
    const key = `${row.sectionId} ${row.sheetId}`;
    const due = {
      dueAt: row.ownDueAt ?? row.due_at,
      latePercent: row.late_percent,
      lateDays: row.late_days,
    };
    const closed = isClosed(due, now);
    const sheet = sheets.get(key) ?? {
      id: row.sheetId,
      sectionId: row.sectionId,
      sectionName: row.sectionName,
      title: row.sheetTitle,
      introduction: row.introduction,
      due,
      timeZone: row.time_zone,
      closed,
      items: [],
    };
    sheet.items.push(toItem(row, closed));
    sheets.set(key, sheet);
  }
  return [...sheets.values()];
}

type Row = Awaited<ReturnType<typeof assignedRows>>[number];

function toItem(row: Row, closed: boolean): AssignedItem {
  const isRun = row.kind === 'practice-engine';
  const removed = row.removed_at !== null;
  const tries = triesFor(row.tries, row.further);
  const mayStart =
    isRun && !removed && !closed && row.openAttemptId === null && (tries === null || row.triesUsed < tries);
  return {
    id: row.itemId,
    title: row.itemTitle,
    kind: row.kind,
    lessonSlug: row.lesson_slug,
    way: row.way,
    tries,
    triesUsed: row.triesUsed,
    further: row.further,
    openAttemptId: row.openAttemptId,
    result:
      row.lastAttemptId === null
        ? null
        : {
            attemptId: row.lastAttemptId,
            points: row.changedPoints ?? row.points,
            stops: row.stops ?? 0,
            comments: row.comments > 0,
          },
    state: stateOf(row),
    mayStart,
    removed,
  };
}

function stateOf(row: Row): AssignedItem['state'] {
  if (row.kind === 'lesson' || row.kind === 'question-set') return 'lesson';
  if (row.kind === 'shop-engine') return 'shop';
  return row.openAttemptId ? 'open' : row.lastAttemptId ? 'handed-in' : 'not-started';
}

/** One row an item; the last grade counts, and an instructor's change of it counts before that. */
function assignedRows(db: Kysely<Database>, studentId: number) {
  return (
    db
      .with('mine', (cte) =>
        cte
          .selectFrom('attempts')
          .leftJoin('hand_ins', 'hand_ins.attempt_id', 'attempts.id')
          .where('attempts.student_id', '=', studentId)
          .select([
            'attempts.id',
            'attempts.section_id',
            'attempts.item_id',
            'attempts.try_number',
            'hand_ins.at as handedInAt',
          ]),
      )
      .selectFrom('section_students as seat')
      .innerJoin('sections as section', 'section.id', 'seat.section_id')
      .innerJoin('assignments', 'assignments.section_id', 'seat.section_id')
      .innerJoin('lab_sheets as sheet', 'sheet.id', 'assignments.lab_sheet_id')
      .innerJoin('lab_sheet_items as item', 'item.lab_sheet_id', 'sheet.id')
      .leftJoin('mine as last', (join) =>
        join
          .onRef('last.item_id', '=', 'item.id')
          .onRef('last.section_id', '=', 'seat.section_id')
          .on('last.try_number', '=', (eb) =>
            eb
              .selectFrom('mine')
              .whereRef('mine.item_id', '=', 'item.id')
              .whereRef('mine.section_id', '=', 'seat.section_id')
              .where('mine.handedInAt', 'is not', null)
              .select((max) => max.fn.max('mine.try_number').as('number')),
          ),
      )
      .leftJoin('grades', (join) =>
        join.on('grades.id', '=', (eb) =>
          eb
            .selectFrom('grades as g')
            .whereRef('g.attempt_id', '=', 'last.id')
            .select((max) => max.fn.max('g.id').as('id')),
        ),
      )
      .leftJoin('grade_changes as change', (join) =>
        join.on('change.id', '=', (eb) =>
          eb
            .selectFrom('grade_changes as c')
            .whereRef('c.attempt_id', '=', 'last.id')
            .select((max) => max.fn.max('c.id').as('id')),
        ),
      )
      .where('seat.person_id', '=', studentId)
      .where('section.archived_at', 'is', null)
      // What was taken off the sheet is shown to those who have worked on it.
      .where((eb) =>
        eb.or([
          eb('item.removed_at', 'is', null),
          eb.exists(
            eb
              .selectFrom('mine')
              .whereRef('mine.item_id', '=', 'item.id')
              .whereRef('mine.section_id', '=', 'seat.section_id')
              .select('mine.id'),
          ),
        ]),
      )
      .select((eb) => [
        'section.time_zone',
        'assignments.due_at',
        'assignments.late_percent',
        'assignments.late_days',
        'item.removed_at',
        eb
          .selectFrom('extensions')
          .whereRef('extensions.section_id', '=', 'seat.section_id')
          .whereRef('extensions.lab_sheet_id', '=', 'sheet.id')
          .whereRef('extensions.person_id', '=', 'seat.person_id')
          .select('extensions.due_at')
          .orderBy('extensions.id', 'desc')
          .limit(1)
          .as('ownDueAt'),
        'section.id as sectionId',
        'section.name as sectionName',
        'sheet.id as sheetId',
        'sheet.title as sheetTitle',
        'sheet.introduction',
        'item.id as itemId',
        'item.title as itemTitle',
        'item.kind',
        'item.lesson_slug',
        'item.way',
        'item.tries',
        eb
          .selectFrom('mine')
          .whereRef('mine.item_id', '=', 'item.id')
          .whereRef('mine.section_id', '=', 'seat.section_id')
          .select((count) => count.fn.countAll<number>().as('n'))
          .$asScalar()
          .$notNull()
          .as('triesUsed'),
        eb
          .selectFrom('mine')
          .whereRef('mine.item_id', '=', 'item.id')
          .whereRef('mine.section_id', '=', 'seat.section_id')
          .where('mine.handedInAt', 'is', null)
          .select('mine.id')
          .orderBy('mine.try_number', 'desc')
          .limit(1)
          .as('openAttemptId'),
        furtherTriesOf({ item: 'item.id', section: 'seat.section_id', student: 'seat.person_id' }).as(
          'further',
        ),
        sql<number>`(SELECT count(*) FROM attempt_comments said WHERE said.attempt_id = last.id)
          + (SELECT count(*) FROM further_tries given WHERE given.attempt_id = last.id)`.as('comments'),
        'last.id as lastAttemptId',
        'grades.points',
        'grades.stops',
        sql<number | null>`change.set_up + change.procedure + change.reading + change.verdict`.as(
          'changedPoints',
        ),
      ])
      .orderBy('section.id')
      .orderBy('sheet.id')
      .orderBy('item.removed_at')
      .orderBy('item.ordinal')
      .execute()
  );
}
