import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { NotFound } from '../web/errors.ts';
import { namesElsewhere, type OneRosterVersion, oneRosterFiles, zipped } from './oneroster-results.ts';
import { sectionScores } from './scores.ts';

/** A section's scores as a OneRoster set, zipped, with how many results are in it. The caller has made sure that the section is theirs to see. Throws NotFound. */
export async function oneRosterSet(
  db: Kysely<Database>,
  wanted: {
    readonly version: OneRosterVersion;
    readonly sectionId: number;
    /** What lab sheets are evidence of. */
    readonly competencies: readonly { readonly uuid: string; readonly itemIds: readonly number[] }[];
    readonly at: string;
  },
): Promise<{ readonly zip: Buffer; readonly rows: number }> {
  const { version, sectionId, competencies, at } = wanted;
  const section = await db
    .selectFrom('sections')
    .where('id', '=', sectionId)
    .select(['id', 'time_zone'])
    .executeTakeFirst();
  if (section === undefined) throw new NotFound();
  const roster = await db
    .selectFrom('section_students as seat')
    .innerJoin('people', 'people.id', 'seat.person_id')
    .where('seat.section_id', '=', sectionId)
    .select(['people.id', 'people.student_number'])
    .execute();
  const people = roster.map(({ id, student_number }) => ({ id, student_number: student_number ?? '' }));
  const scores = await sectionScores(
    db,
    sectionId,
    people.map(({ id }) => id),
    at,
  );
  const items = await db.selectFrom('lab_sheet_items').select(['id', 'lab_sheet_id']).execute();
  const objectives = new Map(
    scores.sheets.map(({ sheetId }) => [
      sheetId,
      competencies
        .filter(({ itemIds }) =>
          items.some((one) => one.lab_sheet_id === sheetId && itemIds.includes(one.id)),
        )
        .map(({ uuid }) => uuid),
    ]),
  );
  const names = await namesElsewhere(db, sectionId, people);
  const place = { id: section.id, timeZone: section.time_zone };
  const files = oneRosterFiles(version, place, scores, names, at, objectives);
  return { zip: await zipped(files, new Date(at)), rows: scores.students.length * scores.sheets.length };
}
