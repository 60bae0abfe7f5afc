import { isDeepStrictEqual } from 'node:util';
import { type Kysely, sql } from 'kysely';
import type { Database } from '../database/tables.ts';
import {
  type AnyAction,
  type AnyDefinition,
  type AnySheet,
  ENGINE_VERSION,
  generateBench,
  gradeAttempt,
} from '../engine/index.ts';
import { getGradedRows } from './queries.ts';

/** What grading attempts again gave. */
export interface Regraded {
  /** Graded again by the version of the engine that graded them: the same must come out. */
  readonly same: number;
  /** Graded by an earlier version of the engine, whose word stands; not compared. */
  readonly older: number;
  /** Attempts whose grade does not come out again, though the engine is the same. */
  readonly different: readonly string[];
}

/** Grades up to `most` attempts drawn by lot again, from definition, seed, actions and sheet, and compares whole grades. */
export async function regradeSample(db: Kysely<Database>, most: number): Promise<Regraded> {
  const drawn = await db
    .selectFrom('hand_ins')
    .select('attempt_id')
    .orderBy(sql`random()`)
    .limit(most)
    .execute();
  let [same, older] = [0, 0];
  const different: string[] = [];
  for (const { attempt_id } of drawn) {
    const { attempt, grade, actions } = await getGradedRows(db, attempt_id);
    if (grade.engine_version !== ENGINE_VERSION) {
      older += 1;
      continue;
    }
    const { trace: _, ...again } = gradeAttempt(
      generateBench(JSON.parse(attempt.definition) as AnyDefinition, attempt.seed),
      actions.map(({ action }) => JSON.parse(action) as AnyAction),
      JSON.parse(attempt.writtenSheet) as AnySheet,
    );
    // Through JSON, as it was stored.
    if (isDeepStrictEqual(JSON.parse(JSON.stringify(again)), JSON.parse(grade.grade))) same += 1;
    else different.push(attempt_id);
  }
  return { same, older, different };
}
