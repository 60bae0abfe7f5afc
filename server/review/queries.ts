import { type Kysely, sql, type Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import { type PointsByCriterion, tenths } from './points.ts';

/** One go at a practice engine, with the points that count now. */
export interface AttemptSummary {
  readonly id: string;
  readonly sectionId: number;
  readonly sectionName: string;
  readonly term: string;
  readonly itemId: number;
  readonly itemTitle: string;
  readonly studentId: number;
  readonly givenName: string;
  readonly familyName: string;
  readonly studentNumber: string;
  readonly tryNumber: number;
  readonly way: 'practice' | 'graded-run';
  readonly startedAt: string;
  /** Null while it is in progress. */
  readonly handedInAt: string | null;
  readonly actions: number;
  readonly lastActionAt: string | null;
  /** After changes; null until it is graded. */
  readonly points: number | null;
  readonly changed: boolean;
  readonly stops: number;
  /** What the student did not agree with, and how much of it nobody has answered yet. */
  readonly disagreements: number;
  readonly unanswered: number;
  readonly gradedByEngine: string | null;
}

/** Every go of one student in one section, oldest first. The caller has made sure that both are theirs to see. */
export async function listAttemptsOfStudent(
  db: Kysely<Database>,
  sectionId: number,
  studentId: number,
): Promise<AttemptSummary[]> {
  const rows = await summaries(db)
    .where('attempt.section_id', '=', sectionId)
    .where('attempt.student_id', '=', studentId)
    .execute();
  return rows.map(toSummary);
}

/** Every graded run handed in on these items, oldest first; of one attempt alone where it is given. */
export async function listGradedRuns(
  db: Kysely<Database>,
  itemIds: readonly number[],
  attemptId?: string,
): Promise<AttemptSummary[]> {
  if (itemIds.length === 0) return [];
  let query = summaries(db)
    .where('attempt.item_id', 'in', itemIds)
    .where('attempt.way', '=', 'graded-run')
    .where('grade.id', 'is not', null);
  if (attemptId !== undefined) query = query.where('attempt.id', '=', attemptId);
  return (await query.execute()).map(toSummary);
}

/** The latest grade counts, and the newest change of its points before that. */
function summaries(db: Kysely<Database>) {
  return db
    .selectFrom('attempts as attempt')
    .innerJoin('sections as section', 'section.id', 'attempt.section_id')
    .innerJoin('lab_sheet_items as item', 'item.id', 'attempt.item_id')
    .innerJoin('people as person', 'person.id', 'attempt.student_id')
    .leftJoin('hand_ins', 'hand_ins.attempt_id', 'attempt.id')
    .leftJoin('grades as grade', (join) =>
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
    .select([
      'attempt.id',
      'section.id as sectionId',
      'section.name as sectionName',
      'section.term',
      'item.id as itemId',
      'item.title as itemTitle',
      'person.id as studentId',
      'person.given_name as givenName',
      'person.family_name as familyName',
      'person.student_number as studentNumber',
      'attempt.try_number as tryNumber',
      'attempt.way',
      'attempt.started_at as startedAt',
      'hand_ins.at as handedInAt',
      'grade.points as gradePoints',
      'grade.stops',
      'grade.engine_version as gradedByEngine',
      'change.id as changeId',
      sql<number | null>`change.set_up + change.procedure + change.reading + change.verdict`.as(
        'changedPoints',
      ),
      sql<number>`(SELECT count(*) FROM disagreements d WHERE d.attempt_id = attempt.id)`.as('disagreements'),
      sql<number>`(SELECT count(*) FROM disagreements d WHERE d.attempt_id = attempt.id
        AND NOT EXISTS (SELECT 1 FROM disagreement_answers r WHERE r.disagreement_id = d.id))`.as(
        'unanswered',
      ),
      sql<number>`(SELECT count(*) FROM attempt_actions a WHERE a.attempt_id = attempt.id)`.as('actions'),
      sql<
        string | null
      >`(SELECT a.at FROM attempt_actions a WHERE a.attempt_id = attempt.id ORDER BY a.seq DESC LIMIT 1)`.as(
        'lastActionAt',
      ),
    ])
    .orderBy('attempt.started_at')
    .orderBy('attempt.id');
}

type Row = Awaited<ReturnType<ReturnType<typeof summaries>['execute']>>[number];

function toSummary({
  gradePoints,
  changedPoints,
  changeId,
  stops,
  studentNumber,
  ...row
}: Row): AttemptSummary {
  const points = changedPoints ?? gradePoints;
  return {
    ...row,
    studentNumber: studentNumber ?? '',
    points: points === null ? null : tenths(points),
    changed: changeId !== null,
    stops: stops ?? 0,
  };
}

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
  return { attempt, grade, actions, changes: await listChanges(db, attemptId) };
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

/** What is needed to hold a student's written readings against their gauges: each sheet with its latest grade, oldest first. */
export function listGradedSheets(db: Kysely<Database>, studentId: number) {
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
    .where('attempt.student_id', '=', studentId)
    .select(['attempt.definition', 'attempt.seed', 'hand_ins.sheet', 'hand_ins.at', 'grade.grade'])
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
