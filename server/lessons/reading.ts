import type { Kysely, Transaction } from 'kysely';
import { keptQuery } from '../database/kept-query.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import type { PlanRow } from './plan.ts';

/** What a section's plan says, in its order; empty where nobody has made one. The caller has made sure that the section is theirs to see. */
export async function listPlan(db: Kysely<Database>, sectionId: number): Promise<readonly PlanRow[]> {
  const rows = await db
    .selectFrom('section_lessons')
    .where('section_id', '=', sectionId)
    .select(['lesson_key', 'hidden', 'release_on'])
    .orderBy('ordinal')
    .execute();
  return rows.map(toPlanRow);
}

const plansOf = keptQuery((db, { personId }: { personId: number }) =>
  db
    .selectFrom('section_students as seat')
    .innerJoin('sections as section', 'section.id', 'seat.section_id')
    .leftJoin('section_lessons as line', 'line.section_id', 'seat.section_id')
    .where('seat.person_id', '=', personId)
    .select(['seat.section_id', 'section.time_zone', 'line.lesson_key', 'line.hidden', 'line.release_on'])
    .orderBy('seat.section_id')
    .orderBy('line.ordinal'),
);

/** What one of a student's sections says of its lessons. */
export interface OwnPlan {
  /** The zone of the clock on its wall, by which its days begin. */
  readonly timeZone: string;
  /** Empty where nobody has made a plan. */
  readonly rows: readonly PlanRow[];
}

/** The plans of every section the student is in. */
export async function listOwnPlans(db: Kysely<Database>, actor: Actor): Promise<readonly OwnPlan[]> {
  const plans = new Map<number, { timeZone: string; rows: PlanRow[] }>();
  for (const row of await plansOf(db, { personId: actor.id })) {
    const { section_id, time_zone, lesson_key, hidden, release_on } = row;
    const plan = plans.get(section_id) ?? { timeZone: time_zone, rows: [] };
    if (lesson_key !== null) plan.rows.push(toPlanRow({ lesson_key, hidden: hidden ?? 0, release_on }));
    plans.set(section_id, plan);
  }
  return [...plans.values()];
}

function toPlanRow(row: {
  readonly lesson_key: string;
  readonly hidden: number;
  readonly release_on: string | null;
}): PlanRow {
  return { key: row.lesson_key, hidden: row.hidden === 1, releaseOn: row.release_on };
}

/** Puts a section's plan in the place of the one before. The caller has made sure that the section is the actor's. */
export async function savePlan(
  trx: Transaction<Database>,
  sectionId: number,
  rows: readonly PlanRow[],
): Promise<void> {
  await trx.deleteFrom('section_lessons').where('section_id', '=', sectionId).execute();
  if (rows.length === 0) return;
  await trx
    .insertInto('section_lessons')
    .values(
      rows.map(({ key, hidden, releaseOn }, ordinal) => ({
        section_id: sectionId,
        lesson_key: key,
        ordinal,
        hidden: hidden ? 1 : 0,
        release_on: releaseOn,
      })),
    )
    .execute();
}

/** Gives a section the order and the choice of another's lessons; from which day each is read belongs to a term and is left out. */
export async function copyPlan(trx: Transaction<Database>, from: number, to: number): Promise<void> {
  const rows = await listPlan(trx, from);
  await savePlan(
    trx,
    to,
    rows.map((row) => ({ ...row, releaseOn: null })),
  );
}

/** How far somebody is with a lesson. */
export interface Reading {
  readonly openedAt: string | null;
  readonly readAt: string | null;
}

export const UNREAD: Reading = { openedAt: null, readAt: null };

const readsOf = keptQuery((db, { personId }: { personId: number }) =>
  db.selectFrom('lesson_reads').where('person_id', '=', personId).select(['lesson_key', 'what', 'at']),
);

const readsOfOne = keptQuery((db, { personId, key }: { personId: number; key: string }) =>
  db
    .selectFrom('lesson_reads')
    .where('person_id', '=', personId)
    .where('lesson_key', '=', key)
    .select(['lesson_key', 'what', 'at']),
);

/** What the actor has opened and read, by lesson. Nobody else's is looked at. */
export async function listOwnReading(
  db: Kysely<Database>,
  actor: Actor,
): Promise<ReadonlyMap<string, Reading>> {
  return readingsIn(await readsOf(db, { personId: actor.id }));
}

/** How far the actor is with one lesson. */
export async function findOwnReading(db: Kysely<Database>, actor: Actor, key: string): Promise<Reading> {
  return readingsIn(await readsOfOne(db, { personId: actor.id, key })).get(key) ?? UNREAD;
}

function readingsIn(
  rows: readonly { readonly lesson_key: string; readonly what: string; readonly at: string }[],
): ReadonlyMap<string, Reading> {
  const found = new Map<string, Reading>();
  for (const { lesson_key, what, at } of rows) {
    const before = found.get(lesson_key) ?? UNREAD;
    found.set(lesson_key, what === 'read' ? { ...before, readAt: at } : { ...before, openedAt: at });
  }
  return found;
}

/** Keeps that the actor opened a lesson, or has read it; the first time counts. */
export async function keepReading(
  trx: Transaction<Database>,
  actor: Actor,
  key: string,
  what: 'opened' | 'read',
  at: string,
): Promise<void> {
  await trx
    .insertInto('lesson_reads')
    .values({ person_id: actor.id, lesson_key: key, what, at })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

/** How far each student of a section is: by person and lesson, with the questions answered right at least once. The caller has made sure that the section is theirs. */
export async function listSectionReading(
  db: Kysely<Database>,
  sectionId: number,
): Promise<ReadonlyMap<string, Reading & { readonly right: number }>> {
  const found = new Map<string, Reading & { readonly right: number }>();
  const reads = await db
    .selectFrom('lesson_reads as read')
    .innerJoin('section_students as seat', 'seat.person_id', 'read.person_id')
    .where('seat.section_id', '=', sectionId)
    .select(['read.person_id', 'read.lesson_key', 'read.what', 'read.at'])
    .execute();
  for (const { person_id, lesson_key, what, at } of reads) {
    const id = readingKey(person_id, lesson_key);
    const before = found.get(id) ?? { ...UNREAD, right: 0 };
    found.set(id, what === 'read' ? { ...before, readAt: at } : { ...before, openedAt: at });
  }
  const answers = await db
    .selectFrom('lesson_answers as answer')
    .innerJoin('section_students as seat', 'seat.person_id', 'answer.person_id')
    .where('seat.section_id', '=', sectionId)
    .where('answer.correct', '=', 1)
    .select((eb) => [
      'answer.person_id',
      'answer.lesson_slug',
      eb.fn.count<number>('answer.question_id').distinct().as('right'),
    ])
    .groupBy(['answer.person_id', 'answer.lesson_slug'])
    .execute();
  for (const { person_id, lesson_slug, right } of answers) {
    const id = readingKey(person_id, lesson_slug);
    found.set(id, { ...(found.get(id) ?? UNREAD), right });
  }
  return found;
}

export function readingKey(personId: number, key: string): string {
  return `${personId} ${key}`;
}

/** What the students of a section have done with lessons: those they read, and each question the first time it was answered right. The caller has made sure that the section is theirs. */
export async function listSectionWork(db: Kysely<Database>, sectionId: number) {
  const reads = await db
    .selectFrom('lesson_reads as read')
    .innerJoin('section_students as seat', 'seat.person_id', 'read.person_id')
    .where('seat.section_id', '=', sectionId)
    .where('read.what', '=', 'read')
    .select(['read.person_id as personId', 'read.lesson_key as lesson', 'read.at'])
    .execute();
  const right = await db
    .selectFrom('lesson_answers as answer')
    .innerJoin('section_students as seat', 'seat.person_id', 'answer.person_id')
    .where('seat.section_id', '=', sectionId)
    .where('answer.correct', '=', 1)
    .select((eb) => [
      'answer.person_id as personId',
      'answer.lesson_slug as lesson',
      eb.fn.min<string>('answer.at').as('at'),
    ])
    .groupBy(['answer.person_id', 'answer.lesson_slug', 'answer.question_id'])
    .execute();
  return { reads, right };
}

/** Every answer to a lesson's questions by those who are on a section's roster, oldest first. The caller has made sure that the section is theirs to see. */
export async function listSectionAnswers(db: Kysely<Database>, sectionId: number) {
  const rows = await db
    .selectFrom('lesson_answers as answer')
    .innerJoin('section_students as seat', 'seat.person_id', 'answer.person_id')
    .where('seat.section_id', '=', sectionId)
    .select([
      'answer.person_id as studentId',
      'answer.lesson_slug as lesson',
      'answer.question_id as question',
      'answer.correct',
      'answer.at',
    ])
    .orderBy('answer.id')
    .execute();
  return rows.map(({ correct, ...row }) => ({ ...row, right: correct === 1 }));
}
