import { randomBytes } from 'node:crypto';
import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import type { PlacedReading, StudyPlan } from './plan.ts';

export interface Study extends StudyPlan {
  readonly id: number;
  readonly sectionId: number;
  readonly seed: string;
  readonly madeAt: string;
}

/** The studies of a section, newest first. The caller has made sure that it is theirs. */
export async function listStudies(db: Kysely<Database>, sectionId: number): Promise<readonly Study[]> {
  const rows = await db
    .selectFrom('gauge_studies')
    .where('section_id', '=', sectionId)
    .selectAll()
    .orderBy('id', 'desc')
    .execute();
  return rows.map(toStudy);
}

/** One of them. Throws NotFound. */
export async function getStudy(db: Kysely<Database>, sectionId: number, id: number): Promise<Study> {
  const row = await db
    .selectFrom('gauge_studies')
    .where('section_id', '=', sectionId)
    .where('id', '=', id)
    .selectAll()
    .executeTakeFirst();
  if (!row) throw new NotFound();
  return toStudy(row);
}

function toStudy(row: {
  id: number;
  section_id: number;
  title: string;
  unit: 'in' | 'mm';
  graduation: number;
  tolerance: number | null;
  parts: string;
  people: string;
  repeats: number;
  seed: string;
  made_at: string;
}): Study {
  return {
    id: row.id,
    sectionId: row.section_id,
    title: row.title,
    unit: row.unit,
    graduation: row.graduation,
    tolerance: row.tolerance,
    parts: JSON.parse(row.parts) as string[],
    people: JSON.parse(row.people) as string[],
    repeats: row.repeats,
    seed: row.seed,
    madeAt: row.made_at,
  };
}

export async function addStudy(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  plan: StudyPlan,
  at: string,
): Promise<number> {
  const { title, unit, graduation, tolerance, parts, people, repeats } = plan;
  const { id } = await trx
    .insertInto('gauge_studies')
    .values({
      section_id: sectionId,
      ...{ title, unit, graduation, tolerance, repeats },
      parts: JSON.stringify(parts),
      people: JSON.stringify(people),
      seed: randomBytes(8).toString('hex'),
      made_by: actor.id,
      made_at: at,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** Puts readings down; a blank takes one back. */
export async function putReadings(
  trx: Transaction<Database>,
  actor: Actor,
  studyId: number,
  readings: readonly (Omit<PlacedReading, 'value'> & { readonly value: number | null })[],
  at: string,
): Promise<void> {
  for (const { part, person, repeat, value } of readings)
    await trx
      .insertInto('gauge_study_readings')
      .values({ study_id: studyId, part, person, repeat, value, entered_by: actor.id, at })
      .execute();
}

/** The readings that hold now: of each place the newest. */
export async function listReadings(db: Kysely<Database>, studyId: number): Promise<readonly PlacedReading[]> {
  const rows = await db
    .selectFrom('gauge_study_readings')
    .where('study_id', '=', studyId)
    .select(['part', 'person', 'repeat', 'value'])
    .orderBy('id')
    .execute();
  const newest = new Map(rows.map((row) => [`${row.part} ${row.person} ${row.repeat}`, row]));
  return [...newest.values()].flatMap(({ value, ...place }) => (value === null ? [] : [{ ...place, value }]));
}
