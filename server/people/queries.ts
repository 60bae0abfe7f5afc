import { type Kysely, sql } from 'kysely';
import type { Database } from '../database/tables.ts';
import { NotFound } from '../web/errors.ts';

/** Somebody of the program, as they stand in a list. */
export interface FoundPerson {
  readonly id: number;
  readonly role: 'student' | 'instructor' | 'coordinator';
  readonly givenName: string;
  readonly familyName: string;
  readonly studentNumber: string;
  /** The newest section they were in or taught: `Fuel systems, section A, Autumn 2026`; blank for none. */
  readonly lastSection: string;
}

/** So many are listed; whoever has more letters to give finds fewer. */
export const MOST_FOUND = 50;

/** Small letters without their marks, so that `Dueñas` is found by `duenas`; what has no mark to lose is as it is. */
export function plainLetters(text: string): string {
  return text
    .normalize('NFD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll('ł', 'l')
    .replaceAll('ø', 'o')
    .replaceAll('đ', 'd')
    .replaceAll('ß', 'ss');
}

/** Those whose names and numbers hold every word that was typed, in any order; by name, one more than are shown where there are more. For coordinators. */
export async function findPeople(db: Kysely<Database>, typed: string): Promise<readonly FoundPerson[]> {
  const words = plainLetters(typed).split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const all = await db
    .selectFrom('people')
    .select(['id', 'role', 'given_name', 'family_name', 'student_number'])
    .execute();
  const order = new Intl.Collator('en');
  const found = all
    .filter((one) => {
      const text = plainLetters(`${one.given_name} ${one.family_name} ${one.student_number ?? ''}`);
      return words.every((word) => text.includes(word));
    })
    .sort(
      (one, other) =>
        order.compare(one.family_name, other.family_name) ||
        order.compare(one.given_name, other.given_name) ||
        one.id - other.id,
    )
    .slice(0, MOST_FOUND + 1);
  const last = await lastSections(
    db,
    found.map(({ id }) => id),
  );
  return found.map((one) => ({
    ...{ id: one.id, role: one.role, givenName: one.given_name, familyName: one.family_name },
    ...{ studentNumber: one.student_number ?? '', lastSection: last.get(one.id) ?? '' },
  }));
}

async function lastSections(
  db: Kysely<Database>,
  ids: readonly number[],
): Promise<ReadonlyMap<number, string>> {
  const { rows } = await sql<{ id: number; words: string }>`
    SELECT seat.person_id AS id, s.name || ', ' || s.term AS words, max(s.created_at)
    FROM (SELECT person_id, section_id FROM section_students UNION SELECT person_id, section_id FROM section_leavers
      UNION SELECT person_id, section_id FROM section_instructors) seat
    JOIN sections s ON s.id = seat.section_id
    WHERE seat.person_id IN (SELECT value FROM json_each(${JSON.stringify(ids)}))
    GROUP BY seat.person_id`.execute(db);
  return new Map(rows.map(({ id, words }) => [id, words]));
}

/** Somebody with everything a coordinator may know of them but their work. */
export interface PersonFile {
  readonly id: number;
  readonly role: 'student' | 'instructor' | 'coordinator';
  readonly givenName: string;
  readonly familyName: string;
  readonly studentNumber: string;
  readonly email: string;
  readonly since: string;
  readonly sections: readonly SeatThen[];
}

/** A section somebody is or was in, or teaches. */
export interface SeatThen {
  readonly sectionId: number;
  readonly name: string;
  readonly term: string;
  readonly from: string | null;
  readonly leftAt: string | null;
  readonly gradedRuns: number;
  readonly signOffs: number;
}

/** One person. Throws NotFound. For coordinators. */
export async function getPersonFile(db: Kysely<Database>, id: number): Promise<PersonFile> {
  const person = await db
    .selectFrom('people')
    .where('id', '=', id)
    .select(['id', 'role', 'given_name', 'family_name', 'student_number', 'email', 'created_at'])
    .executeTakeFirst();
  if (person === undefined) throw new NotFound();
  const { rows } = await sql<SeatThen>`
    SELECT s.id AS sectionId, s.name, s.term, seat.since AS "from", seat.gone AS leftAt,
      (SELECT count(*) FROM attempts a JOIN hand_ins h ON h.attempt_id = a.id
        WHERE a.section_id = s.id AND a.student_id = ${id} AND a.way = 'graded-run') AS gradedRuns,
      (SELECT count(*) FROM sign_offs o WHERE o.section_id = s.id AND o.student_id = ${id}) AS signOffs
    FROM (
      SELECT section_id, added_at AS since, NULL AS gone FROM section_students WHERE person_id = ${id}
      UNION ALL SELECT section_id, NULL, max(left_at) FROM section_leavers WHERE person_id = ${id}
        AND section_id NOT IN (SELECT section_id FROM section_students WHERE person_id = ${id}) GROUP BY section_id
      UNION ALL SELECT section_id, NULL, NULL FROM section_instructors WHERE person_id = ${id}
    ) seat JOIN sections s ON s.id = seat.section_id ORDER BY s.created_at DESC, s.name`.execute(db);
  return {
    ...{ id: person.id, role: person.role, givenName: person.given_name, familyName: person.family_name },
    ...{ studentNumber: person.student_number ?? '', email: person.email ?? '', since: person.created_at },
    sections: rows,
  };
}
