import { type Kysely, sql } from 'kysely';
import type { Database } from '../database/tables.ts';
import { furtherTriesOf, triesFor } from '../labsheets/index.ts';
import { tenths } from './points.ts';

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
  /** After changes; null until it is graded. */
  readonly points: number | null;
  readonly changed: boolean;
  readonly stops: number;
  /** What the student did not agree with, and how much of it nobody has answered yet. */
  readonly disagreements: number;
  readonly unanswered: number;
  readonly gradedByEngine: string | null;
  /** How many tries this person has at the item; null is as many as wanted. */
  readonly tries: number | null;
  /** When an instructor last looked at it, answered, commented, changed its points or gave another try. */
  readonly reviewedAt: string | null;
}

/** The same with how far it has come, for following a student's work. */
export interface FollowedAttempt extends AttemptSummary {
  readonly actions: number;
  readonly lastActionAt: string | null;
}

/** Every go of one student in one section, oldest first. The caller has made sure that both are theirs to see. */
export async function listAttemptsOfStudent(
  db: Kysely<Database>,
  sectionId: number,
  studentId: number,
): Promise<FollowedAttempt[]> {
  const rows = await summaries(db)
    .where('attempt.section_id', '=', sectionId)
    .where('attempt.student_id', '=', studentId)
    .select([
      sql<number>`(SELECT count(*) FROM attempt_actions a WHERE a.attempt_id = attempt.id)`.as('actions'),
      sql<
        string | null
      >`(SELECT a.at FROM attempt_actions a WHERE a.attempt_id = attempt.id ORDER BY a.seq DESC LIMIT 1)`.as(
        'lastActionAt',
      ),
    ])
    .execute();
  return rows.map(({ actions, lastActionAt, ...row }) => ({ ...toSummary(row), actions, lastActionAt }));
}

/** Every graded run one student handed in, in any section, oldest first. The caller has made sure that it is theirs to see. */
export async function listGradedOfStudent(
  db: Kysely<Database>,
  studentId: number,
): Promise<AttemptSummary[]> {
  const rows = await summaries(db)
    .where('attempt.student_id', '=', studentId)
    .where('attempt.way', '=', 'graded-run')
    .where('grade.id', 'is not', null)
    .execute();
  return rows.map(toSummary);
}

/** Every go handed in and graded in a section, oldest first. The caller has made sure that the section is theirs. */
export async function listGradedInSection(
  db: Kysely<Database>,
  sectionId: number,
): Promise<AttemptSummary[]> {
  const rows = await summaries(db)
    .where('attempt.section_id', '=', sectionId)
    .where('grade.id', 'is not', null)
    .execute();
  return rows.map(toSummary);
}

/** Every graded run handed in on these items, oldest first; of one attempt, or of one student, alone where they are given. */
export async function listGradedRuns(
  db: Kysely<Database>,
  itemIds: readonly number[],
  alone: { readonly attemptId?: string; readonly studentId?: number } = {},
): Promise<AttemptSummary[]> {
  if (itemIds.length === 0) return [];
  let query = summaries(db)
    .where('attempt.item_id', 'in', itemIds)
    .where('attempt.way', '=', 'graded-run')
    .where('grade.id', 'is not', null);
  const { attemptId, studentId } = alone;
  if (attemptId !== undefined) query = query.where('attempt.id', '=', attemptId);
  if (studentId !== undefined) query = query.where('attempt.student_id', '=', studentId);
  return (await query.execute()).map(toSummary);
}

/** These attempts, as far as they are graded. The caller has made sure that they are theirs to see. */
export async function listGradedById(
  db: Kysely<Database>,
  ids: readonly string[],
): Promise<AttemptSummary[]> {
  const rows = await summaries(db)
    .where(sql<boolean>`attempt.id IN (SELECT value FROM json_each(${JSON.stringify(ids)}))`)
    .where('grade.id', 'is not', null)
    .execute();
  return rows.map(toSummary);
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
      'item.tries as itemTries',
      furtherTriesOf({
        item: 'attempt.item_id',
        section: 'attempt.section_id',
        student: 'attempt.student_id',
      }).as('further'),
      sql<string | null>`(SELECT max(at) FROM (
        SELECT at FROM attempt_looks WHERE attempt_id = attempt.id
        UNION ALL SELECT at FROM attempt_comments WHERE attempt_id = attempt.id
        UNION ALL SELECT at FROM grade_changes WHERE attempt_id = attempt.id
        UNION ALL SELECT at FROM further_tries WHERE attempt_id = attempt.id
        UNION ALL SELECT answer.at FROM disagreement_answers answer
          JOIN disagreements d ON d.id = answer.disagreement_id WHERE d.attempt_id = attempt.id))`.as(
        'reviewedAt',
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
  itemTries,
  further,
  ...row
}: Row): AttemptSummary {
  const points = changedPoints ?? gradePoints;
  return {
    ...row,
    studentNumber: studentNumber ?? '',
    points: points === null ? null : tenths(points),
    changed: changeId !== null,
    stops: stops ?? 0,
    tries: triesFor(itemTries, further),
  };
}
