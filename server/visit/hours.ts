import { type Kysely, sql } from 'kysely';
import type { Database } from '../database/tables.ts';

/** A longer pause is not work: gaps over three minutes are not counted. */
export const LONGEST_GAP_S = 180;

/** A section with who teaches it, how many learn in it, and how long they worked. */
export interface SectionHours {
  readonly id: number;
  readonly name: string;
  readonly term: string;
  readonly students: number;
  readonly instructors: number;
  /** Hours on practice engines, all students together. */
  readonly hours: number;
}

/** Sections, newest first, with hours on task: from action to action of each attempt, gaps over three minutes left out. */
export async function sectionHours(db: Kysely<Database>): Promise<readonly SectionHours[]> {
  const { rows } = await sql<SectionHours & { seconds: number | null }>`
    WITH steps AS (
      SELECT a.section_id, (julianday(x.at) - julianday(lag(x.at) OVER (PARTITION BY x.attempt_id ORDER BY x.seq))) * 86400 AS gap
      FROM attempt_actions x JOIN attempts a ON a.id = x.attempt_id
    )
    SELECT s.id, s.name, s.term,
      (SELECT count(*) FROM section_students t WHERE t.section_id = s.id) AS students,
      (SELECT count(*) FROM section_instructors t WHERE t.section_id = s.id) AS instructors,
      (SELECT sum(gap) FROM steps WHERE steps.section_id = s.id AND gap <= ${LONGEST_GAP_S}) AS seconds
    FROM sections s ORDER BY s.created_at DESC, s.name`.execute(db);
  return rows.map(({ seconds, ...row }) => ({ ...row, hours: (seconds ?? 0) / 3600 }));
}

/** Hours of one student on practice engines by an instant, counted so. */
export async function studentHours(db: Kysely<Database>, studentId: number, asOf: string): Promise<number> {
  const { rows } = await sql<{ seconds: number | null }>`
    SELECT sum(gap) AS seconds FROM (
      SELECT (julianday(x.at) - julianday(lag(x.at) OVER (PARTITION BY x.attempt_id ORDER BY x.seq))) * 86400 AS gap
      FROM attempt_actions x JOIN attempts a ON a.id = x.attempt_id WHERE a.student_id = ${studentId} AND x.at <= ${asOf}
    ) WHERE gap <= ${LONGEST_GAP_S}`.execute(db);
  return (rows[0]?.seconds ?? 0) / 3600;
}
