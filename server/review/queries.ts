import { type Kysely, sql, type Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import { furtherTriesOf, triesFor } from '../labsheets/index.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import type { PointsByCriterion } from './points.ts';

/** Everything kept of one attempt that has been handed in and graded. Throws NotFound otherwise. */
export async function getGradedRows(db: Kysely<Database>, attemptId: string) {
  const attempt = await db
    .selectFrom('attempts as attempt')
    .innerJoin('sections as section', 'section.id', 'attempt.section_id')
    .innerJoin('lab_sheet_items as item', 'item.id', 'attempt.item_id')
    .innerJoin('lab_sheets as sheet', 'sheet.id', 'item.lab_sheet_id')
    .innerJoin('people as person', 'person.id', 'attempt.student_id')
    .innerJoin('hand_ins', 'hand_ins.attempt_id', 'attempt.id')
    .where('attempt.id', '=', attemptId)
    .selectAll('attempt')
    .select([
      'section.name as sectionName',
      'section.term',
      'item.title as itemTitle',
      'item.tries',
      furtherTriesOf({
        item: 'attempt.item_id',
        section: 'attempt.section_id',
        student: 'attempt.student_id',
      }).as('further'),
      'sheet.id as sheetId',
      'sheet.title as sheetTitle',
      'person.given_name',
      'person.family_name',
      'person.student_number',
      'hand_ins.sheet as writtenSheet',
      'hand_ins.typed as typedSheet',
      'hand_ins.at as handedInAt',
      'hand_ins.action_count as actionCount',
    ])
    .executeTakeFirst();
  const grade = await db
    .selectFrom('grades')
    .where('attempt_id', '=', attemptId)
    .selectAll()
    .orderBy('id', 'desc')
    .executeTakeFirst();
  if (!attempt || !grade) throw new NotFound();
  const actions = await db
    .selectFrom('attempt_actions')
    .where('attempt_id', '=', attemptId)
    .where('seq', '<', attempt.actionCount)
    .select('action')
    .orderBy('seq')
    .execute();
  const tries = triesFor(attempt.tries, attempt.further);
  return { attempt: { ...attempt, tries }, grade, actions, changes: await listChanges(db, attemptId) };
}

/** Every change of an attempt's points, newest first, with who made it. */
export function listChanges(db: Kysely<Database>, attemptId: string) {
  return db
    .selectFrom('grade_changes as change')
    .innerJoin('people as person', 'person.id', 'change.changed_by')
    .where('change.attempt_id', '=', attemptId)
    .selectAll('change')
    .select(['person.given_name', 'person.family_name'])
    .orderBy('change.id', 'desc')
    .execute();
}

/** Is there such an attempt in this section? Throws NotFound; the caller has made sure that the section is theirs. */
export async function requireAttemptIn(
  db: Kysely<Database>,
  sectionId: number,
  attemptId: string,
): Promise<void> {
  const row = await db
    .selectFrom('attempts')
    .where('id', '=', attemptId)
    .where('section_id', '=', sectionId)
    .select('id')
    .executeTakeFirst();
  if (!row) throw new NotFound();
}

export interface NewChange {
  readonly attemptId: string;
  readonly points: PointsByCriterion;
  readonly reason: string;
  readonly by: number;
  readonly at: string;
  /** The newest change the instructor had seen; 0 for none. */
  readonly seen: number;
}

/** Adds a change; nothing is written over. Throws Conflict when another was made since the page was opened. */
export async function appendChange(trx: Transaction<Database>, change: NewChange): Promise<void> {
  const newest = await trx
    .selectFrom('grade_changes')
    .where('attempt_id', '=', change.attemptId)
    .select((eb) => eb.fn.max('id').as('id'))
    .executeTakeFirst();
  if ((newest?.id ?? 0) !== change.seen) {
    throw new Conflict(
      'The points were changed while this page was open. Go back, reload it, and look at the new points first.',
    );
  }
  const { setUp, procedure, reading, verdict } = change.points;
  await trx
    .insertInto('grade_changes')
    .values({
      attempt_id: change.attemptId,
      set_up: setUp,
      procedure,
      reading,
      verdict,
      reason: change.reason,
      changed_by: change.by,
      at: change.at,
    })
    .execute();
}

/** What is needed to hold written readings against their gauges: each sheet of a student, or of a section, with its latest grade, oldest first. */
export function listGradedSheets(
  db: Kysely<Database>,
  whose: { readonly studentId: number } | { readonly sectionId: number },
) {
  const [column, id] =
    'studentId' in whose
      ? (['attempt.student_id', whose.studentId] as const)
      : (['attempt.section_id', whose.sectionId] as const);
  return db
    .selectFrom('attempts as attempt')
    .innerJoin('hand_ins', 'hand_ins.attempt_id', 'attempt.id')
    .innerJoin('grades as grade', (join) =>
      join.on('grade.id', '=', (eb) =>
        eb
          .selectFrom('grades as g')
          .whereRef('g.attempt_id', '=', 'attempt.id')
          .select((max) => max.fn.max('g.id').as('id')),
      ),
    )
    .where(column, '=', id)
    .select([
      'attempt.id',
      'attempt.student_id as studentId',
      'attempt.definition',
      'attempt.seed',
      'hand_ins.sheet',
      'hand_ins.at',
      'grade.id as gradeId',
      'grade.grade',
    ])
    .orderBy('hand_ins.at')
    .orderBy('attempt.id')
    .execute();
}

/** Points by criterion of every attempt handed in in a section, with the weights it was begun under; a change of points counts before the grade. */
export async function listPointsHandedIn(db: Kysely<Database>, sectionId: number) {
  const rows = await db
    .selectFrom('attempts as attempt')
    .innerJoin('hand_ins', 'hand_ins.attempt_id', 'attempt.id')
    .innerJoin('grades as grade', (join) =>
      join.on('grade.id', '=', (eb) =>
        eb
          .selectFrom('grades as g')
          .whereRef('g.attempt_id', '=', 'attempt.id')
          .select((max) => max.fn.max('g.id').as('id')),
      ),
    )
    .leftJoin('grade_changes as change', (join) =>
      join.on('change.id', '=', (eb) =>
        eb
          .selectFrom('grade_changes as c')
          .whereRef('c.attempt_id', '=', 'attempt.id')
          .select((max) => max.fn.max('c.id').as('id')),
      ),
    )
    .where('attempt.section_id', '=', sectionId)
    .select([
      'attempt.student_id as studentId',
      'attempt.item_id as itemId',
      'attempt.weights',
      'hand_ins.at',
      sql<string>`json_extract(grade.grade, '$.points')`.as('graded'),
      'change.set_up',
      'change.procedure',
      'change.reading',
      'change.verdict',
    ])
    .execute();
  return rows.map(({ studentId, itemId, at, weights, graded, ...change }) => {
    const points = JSON.parse(graded) as PointsByCriterion;
    return {
      studentId,
      itemId,
      at,
      weights: weights === null ? null : (JSON.parse(weights) as PointsByCriterion),
      points: {
        setUp: change.set_up ?? points.setUp,
        procedure: change.procedure ?? points.procedure,
        reading: change.reading ?? points.reading,
        verdict: change.verdict ?? points.verdict,
      },
    };
  });
}
