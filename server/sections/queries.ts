import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';

export interface TaughtSection {
  readonly id: number;
  readonly name: string;
  readonly term: string;
  readonly students: number;
  /** The zone of the clock on its wall. */
  readonly timeZone: string;
  /** When it ended; null while it runs. */
  readonly archivedAt: string | null;
}

/** The sections the instructor teaches, newest first, each with how many are on its roster. */
export function listTaughtSections(db: Kysely<Database>, actor: Actor): Promise<TaughtSection[]> {
  return taught(db, actor).orderBy('section.id', 'desc').execute();
}

/** One section the instructor teaches. Throws NotFound, also for somebody else's. */
export async function getTaughtSection(
  db: Kysely<Database>,
  actor: Actor,
  sectionId: number,
): Promise<TaughtSection> {
  const section = await taught(db, actor).where('section.id', '=', sectionId).executeTakeFirst();
  if (!section) throw new NotFound();
  return section;
}

function taught(db: Kysely<Database>, actor: Actor) {
  return db
    .selectFrom('sections as section')
    .innerJoin('section_instructors as teaches', 'teaches.section_id', 'section.id')
    .where('teaches.person_id', '=', actor.id)
    .select((eb) => [
      'section.id',
      'section.name',
      'section.term',
      'section.time_zone as timeZone',
      'section.archived_at as archivedAt',
      eb
        .selectFrom('section_students as seat')
        .whereRef('seat.section_id', '=', 'section.id')
        .select((count) => count.fn.countAll<number>().as('n'))
        .$asScalar()
        .$notNull()
        .as('students'),
    ]);
}

export interface RosterStudent {
  readonly id: number;
  readonly given_name: string;
  readonly family_name: string;
  readonly student_number: string;
  readonly email: string | null;
  /** No password yet; a first one, given by an instructor; or one of the student's own. */
  readonly password: 'none' | 'first' | 'own';
  /** The instructor teaches every section the student is in, and so may give passwords. */
  readonly mayGivePassword: boolean;
}

/** A section's students by family name. Throws NotFound when the instructor does not teach it. */
export async function listRoster(
  db: Kysely<Database>,
  actor: Actor,
  sectionId: number,
): Promise<RosterStudent[]> {
  await getTaughtSection(db, actor, sectionId);
  const rows = await rosterRows(db, actor, sectionId).execute();
  const order = new Intl.Collator('en');
  return rows
    .map(toRosterStudent)
    .sort(
      (a, b) =>
        order.compare(a.family_name, b.family_name) ||
        order.compare(a.given_name, b.given_name) ||
        a.id - b.id,
    );
}

/** One student on the roster of a section the instructor teaches. Throws NotFound. */
export async function getTaughtStudent(
  db: Kysely<Database>,
  actor: Actor,
  sectionId: number,
  studentId: number,
): Promise<RosterStudent> {
  await getTaughtSection(db, actor, sectionId);
  const row = await rosterRows(db, actor, sectionId).where('person.id', '=', studentId).executeTakeFirst();
  if (!row) throw new NotFound();
  return toRosterStudent(row);
}

function rosterRows(db: Kysely<Database>, actor: Actor, sectionId: number) {
  return db
    .selectFrom('section_students as seat')
    .innerJoin('people as person', 'person.id', 'seat.person_id')
    .where('seat.section_id', '=', sectionId)
    .select((eb) => [
      'person.id',
      'person.given_name',
      'person.family_name',
      'person.student_number',
      'person.email',
      'person.must_change_password',
      eb('person.password_hash', 'is not', null).as('hasPassword'),
      eb
        .not(
          eb.exists(
            eb
              .selectFrom('section_students as other')
              .whereRef('other.person_id', '=', 'person.id')
              .where('other.section_id', 'not in', (sub) =>
                sub
                  .selectFrom('section_instructors as t')
                  .where('t.person_id', '=', actor.id)
                  .select('t.section_id'),
              )
              .select('other.section_id'),
          ),
        )
        .as('teachesAll'),
    ]);
}

type RosterRow = Awaited<ReturnType<ReturnType<typeof rosterRows>['execute']>>[number];

function toRosterStudent(row: RosterRow): RosterStudent {
  return {
    id: row.id,
    given_name: row.given_name,
    family_name: row.family_name,
    student_number: row.student_number ?? '',
    email: row.email,
    password: !row.hasPassword ? 'none' : row.must_change_password === 1 ? 'first' : 'own',
    mayGivePassword: Boolean(row.teachesAll),
  };
}
