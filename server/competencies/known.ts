import { type Kysely, sql } from 'kysely';
import type { Database } from '../database/tables.ts';
import { listSignedEvidence } from '../sign-offs/index.ts';
import { localDay } from '../web/local-time.ts';
import type { CoordinatorsWord, Evidence, RunEvidence, SignOffEvidence } from './evidence.ts';
import type { Term } from './standing.ts';

/** What was known of people and competencies at an instant. */
export interface Known {
  evidence(studentId: number, competencyId: number): Evidence;
  words(studentId: number, competencyId: number): readonly CoordinatorsWord[];
  readonly terms: readonly Term[];
  /** Everybody of whom anything was known. */
  readonly studentIds: readonly number[];
}

/**
 * Everything that was known at `asOf` of these competencies: graded runs handed in, with their grades and changes of points as they stood then,
 * sign-offs that counted, and coordinators' words. `links` says which items count for which competency. Of these students alone where they are given.
 */
export async function whatWasKnown(
  db: Kysely<Database>,
  given: {
    readonly links: readonly { readonly competencyId: number; readonly itemId: number }[];
    readonly competencyIds: readonly number[];
    readonly asOf: string;
    readonly studentIds?: readonly number[];
  },
): Promise<Known> {
  const { links, competencyIds, asOf, studentIds } = given;
  const competenciesOf = new Map<number, number[]>();
  for (const { itemId, competencyId } of links)
    competenciesOf.set(itemId, [...(competenciesOf.get(itemId) ?? []), competencyId]);
  const itemIds = [...competenciesOf.keys()];
  const found = new Map<string, { runs: RunEvidence[]; signOffs: SignOffEvidence[] }>();
  const students = new Set<number>();
  const put = (studentId: number, itemId: number) =>
    (competenciesOf.get(itemId) ?? []).map((competencyId) => {
      students.add(studentId);
      const key = keyOf(studentId, competencyId);
      const own = found.get(key) ?? { runs: [], signOffs: [] };
      found.set(key, own);
      return own;
    });
  for (const { studentId, run } of await listRuns(db, itemIds, asOf, studentIds))
    for (const own of put(studentId, run.itemId)) own.runs.push(run);
  for (const { studentId, ...one } of await listSignedEvidence(db, itemIds, asOf, studentIds))
    for (const own of put(studentId, one.itemId)) own.signOffs.push(one);
  const words = new Map<string, CoordinatorsWord[]>();
  for (const { studentId, competencyId, word, at } of await listWords(db, competencyIds, asOf, studentIds)) {
    students.add(studentId);
    const key = keyOf(studentId, competencyId);
    words.set(key, [...(words.get(key) ?? []), { word, at }]);
  }
  return {
    evidence: (studentId, competencyId) => found.get(keyOf(studentId, competencyId)) ?? NOTHING,
    words: (studentId, competencyId) => words.get(keyOf(studentId, competencyId)) ?? [],
    terms: await listTerms(db),
    studentIds: [...students],
  };
}

const NOTHING: Evidence = { runs: [], signOffs: [] };

function keyOf(studentId: number, competencyId: number): string {
  return `${studentId} ${competencyId}`;
}

/** Terms of the program, in order. */
export async function listTerms(db: Kysely<Database>): Promise<readonly Term[]> {
  const rows = await db.selectFrom('terms').selectAll().orderBy('begins_on').execute();
  return rows.map(({ name, begins_on, ends_on }) => ({ name, beginsOn: begins_on, endsOn: ends_on }));
}

async function listRuns(
  db: Kysely<Database>,
  itemIds: readonly number[],
  asOf: string,
  studentIds: readonly number[] | undefined,
) {
  if (itemIds.length === 0 || studentIds?.length === 0) return [];
  let query = db
    .selectFrom('attempts as attempt')
    .innerJoin('hand_ins', 'hand_ins.attempt_id', 'attempt.id')
    .innerJoin('sections as section', 'section.id', 'attempt.section_id')
    .innerJoin('grade_facts as facts', (join) =>
      join.on('facts.grade_id', '=', (eb) =>
        eb
          .selectFrom('grade_facts as f')
          .whereRef('f.attempt_id', '=', 'attempt.id')
          .where('f.at', '<=', asOf)
          .select((max) => max.fn.max('f.grade_id').as('id')),
      ),
    )
    .leftJoin('grade_changes as change', (join) =>
      join.on('change.id', '=', (eb) =>
        eb
          .selectFrom('grade_changes as c')
          .whereRef('c.attempt_id', '=', 'attempt.id')
          .where('c.at', '<=', asOf)
          .select((max) => max.fn.max('c.id').as('id')),
      ),
    )
    .where('attempt.item_id', 'in', itemIds)
    .where('attempt.way', '=', 'graded-run')
    .where('hand_ins.at', '<=', asOf)
    .select([
      ...(['attempt.id', 'attempt.student_id', 'attempt.item_id', 'attempt.seed'] as const),
      ...(['hand_ins.at', 'section.time_zone'] as const),
      sql<number>`coalesce(change.set_up, facts.set_up)`.as('set_up'),
      sql<number>`coalesce(change.procedure, facts.procedure)`.as('procedure'),
      sql<number>`coalesce(change.reading, facts.reading)`.as('reading'),
      sql<number>`coalesce(change.verdict, facts.verdict)`.as('verdict'),
      ...(['facts.out_set_up', 'facts.out_procedure', 'facts.out_reading', 'facts.out_verdict'] as const),
      ...(['facts.stops', 'facts.bad_part', 'facts.set_up_fault'] as const),
    ])
    .orderBy('hand_ins.at')
    .orderBy('attempt.id');
  if (studentIds !== undefined) query = query.where('attempt.student_id', 'in', studentIds);
  const rows = await query.execute();
  return rows.map((row) => ({
    studentId: row.student_id,
    run: {
      id: row.id,
      itemId: row.item_id,
      at: row.at,
      day: localDay(row.at, row.time_zone),
      engine: row.seed,
      points: {
        setUp: row.set_up,
        procedure: row.procedure,
        reading: row.reading,
        verdict: row.verdict,
      },
      outOf: {
        setUp: row.out_set_up,
        procedure: row.out_procedure,
        reading: row.out_reading,
        verdict: row.out_verdict,
      },
      stops: row.stops,
      badPart: row.bad_part === 1,
      setUpFault: row.set_up_fault === 1,
    } satisfies RunEvidence,
  }));
}

async function listWords(
  db: Kysely<Database>,
  competencyIds: readonly number[],
  asOf: string,
  studentIds: readonly number[] | undefined,
) {
  if (competencyIds.length === 0 || studentIds?.length === 0) return [];
  let query = db
    .selectFrom('competency_words')
    .where('competency_id', 'in', competencyIds)
    .where('at', '<=', asOf)
    .select(['competency_id as competencyId', 'student_id as studentId', 'word', 'at'])
    .orderBy('id');
  if (studentIds !== undefined) query = query.where('student_id', 'in', studentIds);
  return query.execute();
}
