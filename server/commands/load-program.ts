import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { hashPassword } from '../accounts/index.ts';
import type { Store } from '../database/open.ts';
import { writeTransaction } from '../database/transaction.ts';
import { fromRoot } from '../root.ts';

const person = z.strictObject({
  role: z.enum(['student', 'instructor', 'coordinator']),
  givenName: z.string().min(1),
  familyName: z.string().min(1),
  signInName: z.string().min(1),
  email: z.string().optional(),
  password: z.string().min(10),
});

const item = z.discriminatedUnion('kind', [
  z.strictObject({ key: z.string(), kind: z.literal('lesson'), title: z.string(), lessonSlug: z.string() }),
  z.strictObject({
    key: z.string(),
    kind: z.literal('practice-engine'),
    title: z.string(),
    way: z.enum(['practice', 'graded-run']),
    tries: z.number().int().positive().nullable(),
    definition: z.looseObject({ kind: z.string(), version: z.number() }),
  }),
]);

/** A program as it stands in `seed-data/`: people, sections, lab sheets and competencies that name each other by key. */
const program = z.strictObject({
  people: z.array(person),
  sections: z.array(
    z.strictObject({
      name: z.string(),
      term: z.string(),
      instructors: z.array(z.string()),
      students: z.array(z.string()),
      labSheets: z.array(z.string()),
    }),
  ),
  labSheets: z.array(
    z.strictObject({ key: z.string(), title: z.string(), introduction: z.string(), items: z.array(item) }),
  ),
  competencies: z.array(
    z.strictObject({
      uuid: z.uuid(),
      code: z.string(),
      title: z.string(),
      course: z.string().default(''),
      statement: z.string().default(''),
      rule: z.looseObject({}),
      items: z.array(z.string()),
    }),
  ),
});

export type Program = z.infer<typeof program>;

/** Reads the demo program. Throws when a file does not hold what it should. */
export function readDemoProgram(): Program {
  const read = (name: string): unknown => JSON.parse(readFileSync(fromRoot('seed-data', name), 'utf8'));
  return program.parse({
    people: read('people.json'),
    sections: read('sections.json'),
    labSheets: read('lab-sheets.json'),
    competencies: read('competencies.json'),
  });
}

/** Does the database hold nobody yet? Only then may a program be loaded. */
export async function isEmpty(store: Store): Promise<boolean> {
  return (await store.db.selectFrom('people').select('id').limit(1).executeTakeFirst()) === undefined;
}

/** Writes a whole program into an empty database, all or nothing. Its people are marked as demo people. */
export async function loadProgram(store: Store, given: Program, now: Date): Promise<void> {
  const hashes = await Promise.all(given.people.map((one) => hashPassword(one.password)));
  const at = now.toISOString();
  await writeTransaction(store, async (trx) => {
    const personIds = new Map<string, number>();
    for (const [index, one] of given.people.entries()) {
      const { id } = await trx
        .insertInto('people')
        .values({
          role: one.role,
          given_name: one.givenName,
          family_name: one.familyName,
          sign_in_name: one.signInName,
          student_number: one.role === 'student' ? one.signInName : null,
          email: one.email ?? null,
          password_hash: hashes[index] ?? null,
          demo: 1,
          created_at: at,
        })
        .returning('id')
        .executeTakeFirstOrThrow();
      personIds.set(one.signInName, id);
    }

    const sheetIds = new Map<string, number>();
    const itemIds = new Map<string, number>();
    for (const { key, title, introduction, items } of given.labSheets) {
      const sheet = await trx
        .insertInto('lab_sheets')
        .values({ title, introduction, created_at: at })
        .returning('id')
        .executeTakeFirstOrThrow();
      sheetIds.set(key, sheet.id);
      for (const [index, one] of items.entries()) {
        const { id } = await trx
          .insertInto('lab_sheet_items')
          .values({
            lab_sheet_id: sheet.id,
            ordinal: index + 1,
            title: one.title,
            kind: one.kind,
            lesson_slug: one.kind === 'lesson' ? one.lessonSlug : null,
            way: one.kind === 'practice-engine' ? one.way : null,
            definition: one.kind === 'practice-engine' ? JSON.stringify(one.definition) : null,
            tries: one.kind === 'practice-engine' ? one.tries : null,
            share: one.kind === 'practice-engine' && one.way === 'graded-run' ? 100 : 0,
          })
          .returning('id')
          .executeTakeFirstOrThrow();
        itemIds.set(one.key, id);
      }
    }

    for (const { name, term, instructors, students, labSheets } of given.sections) {
      const section = await trx
        .insertInto('sections')
        .values({ name, term, created_at: at })
        .returning('id')
        .executeTakeFirstOrThrow();
      const teachers = instructors.map((key) => idOf(personIds, key));
      for (const person_id of teachers) {
        await trx.insertInto('section_instructors').values({ section_id: section.id, person_id }).execute();
      }
      const by = teachers[0] ?? null;
      for (const key of students) {
        const person_id = idOf(personIds, key);
        await trx
          .insertInto('section_students')
          .values({ section_id: section.id, person_id, added_at: at, added_by: by })
          .execute();
      }
      for (const key of labSheets) {
        const lab_sheet_id = idOf(sheetIds, key);
        await trx
          .insertInto('assignments')
          .values({ section_id: section.id, lab_sheet_id, assigned_at: at, assigned_by: by })
          .execute();
      }
    }

    for (const { uuid, code, title, course, statement, rule, items } of given.competencies) {
      const competency = await trx
        .insertInto('competencies')
        .values({ uuid, code, title, course, statement, created_at: at })
        .returning('id')
        .executeTakeFirstOrThrow();
      await trx
        .insertInto('evidence_rules')
        .values({
          ...{ competency_id: competency.id, version: 1, rule: JSON.stringify(rule), in_force_from: at },
          items: JSON.stringify(items.map((key) => idOf(itemIds, key))),
        })
        .execute();
      const content = JSON.stringify({ code, title, statement, course });
      await trx
        .insertInto('competency_versions')
        .values({ competency_id: competency.id, version: 1, content, kept_by: null, at })
        .execute();
    }
  });
}

function idOf(ids: ReadonlyMap<string, number>, key: string): number {
  const id = ids.get(key);
  if (id === undefined) throw new Error(`The program names ${key}, which it does not hold.`);
  return id;
}
