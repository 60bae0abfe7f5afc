import { type Kysely, sql } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Grade, KindName } from '../engine/index.ts';
import { readingErrorsOf } from '../record/index.ts';
import { listGradedInSection, listGradedSheets } from '../review/index.ts';
import { activeSeconds, type Work } from './tally.ts';

/** Work that has been handed in does not change: what was worked out of it once is kept, so much of it at most. */
const MOST_KEPT = 20_000;
const keptSeconds = new Map<string, number>();
const keptReadings = new Map<number, readonly number[]>();

function keep<K, V>(kept: Map<K, V>, key: K, value: V): V {
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(key, value);
  return value;
}

/** Every attempt handed in and graded in a section, oldest first, with what went wrong. The caller has made sure that the section is theirs. */
export async function listWork(db: Kysely<Database>, sectionId: number): Promise<readonly Work[]> {
  const attempts = await listGradedInSection(db, sectionId);
  const graded = await listWhatWasFound(db, sectionId);
  const seconds = await listActiveSeconds(
    db,
    attempts.map(({ id }) => id),
  );
  return attempts.flatMap((attempt): Work[] => {
    const found = graded.get(attempt.id);
    if (found === undefined || attempt.handedInAt === null) return [];
    return [
      {
        ...found,
        attemptId: attempt.id,
        studentId: attempt.studentId,
        itemId: attempt.itemId,
        itemTitle: attempt.itemTitle,
        way: attempt.way,
        tryNumber: attempt.tryNumber,
        handedInAt: attempt.handedInAt,
        points: attempt.points ?? 0,
        activeSeconds: seconds.get(attempt.id) ?? 0,
      },
    ];
  });
}

async function listWhatWasFound(db: Kysely<Database>, sectionId: number) {
  const rows = await db
    .selectFrom('attempts as attempt')
    .innerJoin('grades as grade', 'grade.attempt_id', 'attempt.id')
    .where('attempt.section_id', '=', sectionId)
    .select([
      'attempt.id',
      sql<KindName>`json_extract(attempt.definition, '$.kind')`.as('kind'),
      // Only these: the rest of a grade is many times their size.
      sql<string>`json_extract(grade.grade, '$.stops')`.as('stops'),
      sql<string>`json_extract(grade.grade, '$.remarks')`.as('remarks'),
      sql<string>`json_extract(grade.grade, '$.mistakes')`.as('mistakes'),
    ])
    // The newest grade of an attempt comes last and counts.
    .orderBy('grade.id')
    .execute();
  return new Map(
    rows.map(({ id, kind, stops, remarks, mistakes }) => [
      id,
      {
        kind,
        stops: JSON.parse(stops) as Grade['stops'],
        remarks: JSON.parse(remarks) as Grade['remarks'],
        mistakes: JSON.parse(mistakes) as Grade['mistakes'],
      },
    ]),
  );
}

async function listActiveSeconds(
  db: Kysely<Database>,
  attemptIds: readonly string[],
): Promise<ReadonlyMap<string, number>> {
  const missing = attemptIds.filter((id) => !keptSeconds.has(id));
  // In parts: a query takes only so many values.
  for (let from = 0; from < missing.length; from += 400) {
    const part = missing.slice(from, from + 400);
    const rows = await db
      .selectFrom('attempts as attempt')
      .innerJoin('hand_ins', 'hand_ins.attempt_id', 'attempt.id')
      .where('attempt.id', 'in', part)
      .select([
        'attempt.id',
        'attempt.started_at as startedAt',
        'hand_ins.at as handedInAt',
        sql<string>`(SELECT json_group_array(at) FROM (SELECT DISTINCT at FROM attempt_actions
          WHERE attempt_id = attempt.id ORDER BY at))`.as('actedAt'),
      ])
      .execute();
    for (const { id, startedAt, handedInAt, actedAt } of rows)
      keep(
        keptSeconds,
        id,
        activeSeconds([startedAt, ...(JSON.parse(actedAt) as readonly string[]), handedInAt]),
      );
  }
  return new Map(attemptIds.map((id) => [id, keptSeconds.get(id) ?? 0]));
}

/** What each student wrote of a dial less what it showed, in graduations, by student; of this section's practice engines. */
export async function listReadings(
  db: Kysely<Database>,
  sectionId: number,
): Promise<ReadonlyMap<number, readonly number[]>> {
  const students = new Map<number, number[]>();
  for (const sheet of await listGradedSheets(db, { sectionId })) {
    const errors =
      keptReadings.get(sheet.gradeId) ??
      keep(
        keptReadings,
        sheet.gradeId,
        readingErrorsOf(sheet).map(({ graduations }) => graduations),
      );
    const own = students.get(sheet.studentId) ?? [];
    own.push(...errors);
    students.set(sheet.studentId, own);
  }
  return students;
}
