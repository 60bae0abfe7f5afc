import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';

/** Every section of the program, newest first. For coordinators. */
export function listProgramSections(db: Kysely<Database>) {
  return db
    .selectFrom('sections')
    .select(['id', 'name', 'term'])
    .orderBy('created_at', 'desc')
    .orderBy('name')
    .execute();
}

/** Everybody of a section, who left it too; of the whole program every student. For coordinators. */
export async function listProgramStudents(
  db: Kysely<Database>,
  sectionId: number | null,
): Promise<readonly number[]> {
  if (sectionId === null) {
    const rows = await db.selectFrom('people').where('role', '=', 'student').select('id').execute();
    return rows.map(({ id }) => id);
  }
  const seats = await db
    .selectFrom('section_students')
    .where('section_id', '=', sectionId)
    .select('person_id')
    .union(db.selectFrom('section_leavers').where('section_id', '=', sectionId).select('person_id'))
    .execute();
  return seats.map(({ person_id }) => person_id);
}
