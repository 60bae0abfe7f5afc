import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict } from '../web/errors.ts';
import { getTaughtSection } from './queries.ts';

/** What a section is called and when it is. */
export interface SectionWords {
  readonly name: string;
  readonly term: string;
  readonly timeZone: string;
}

/** Makes a section that the actor teaches. Throws Conflict where there is one of that name in that term. */
export async function addSection(
  trx: Transaction<Database>,
  actor: Actor,
  words: SectionWords,
  at: string,
): Promise<number> {
  await refuseTwins(trx, words, null);
  const { id } = await trx
    .insertInto('sections')
    .values({ name: words.name, term: words.term, time_zone: words.timeZone, created_at: at })
    .returning('id')
    .executeTakeFirstOrThrow();
  await trx.insertInto('section_instructors').values({ section_id: id, person_id: actor.id }).execute();
  return id;
}

/** Writes a section's words anew. Throws NotFound where it is not the actor's, Conflict where another is called so. */
export async function changeSection(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  words: SectionWords,
): Promise<void> {
  await getTaughtSection(trx, actor, sectionId);
  await refuseTwins(trx, words, sectionId);
  await trx
    .updateTable('sections')
    .set({ name: words.name, term: words.term, time_zone: words.timeZone })
    .where('id', '=', sectionId)
    .execute();
}

async function refuseTwins(
  trx: Transaction<Database>,
  { name, term }: SectionWords,
  but: number | null,
): Promise<void> {
  const twin = await trx
    .selectFrom('sections')
    .where('name', '=', name)
    .where('term', '=', term)
    .select('id')
    .executeTakeFirst();
  if (twin && twin.id !== but)
    throw new Conflict(`There is already a section called “${name}” in ${term}. Choose another name.`);
}

/** Ends a section, or lets it run again. Nothing of it is lost. */
export async function setArchived(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  at: string | null,
): Promise<void> {
  await getTaughtSection(trx, actor, sectionId);
  await trx.updateTable('sections').set({ archived_at: at }).where('id', '=', sectionId).execute();
}

/** Who teaches a section. The caller has made sure that it is theirs. */
export function listInstructors(db: Kysely<Database>, sectionId: number) {
  return db
    .selectFrom('section_instructors as teaches')
    .innerJoin('people as person', 'person.id', 'teaches.person_id')
    .where('teaches.section_id', '=', sectionId)
    .select([
      'person.id',
      'person.given_name',
      'person.family_name',
      'person.sign_in_name',
      'person.substitute_until',
    ])
    .orderBy('person.family_name')
    .execute();
}

/** Lets another instructor teach the section too. False where nobody, or no instructor, signs in by that name. */
export async function addInstructor(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  signInName: string,
): Promise<boolean> {
  await getTaughtSection(trx, actor, sectionId);
  const person = await trx
    .selectFrom('people')
    .where('sign_in_name', '=', signInName)
    .where('role', '=', 'instructor')
    .where('substitute_until', 'is', null)
    .select('id')
    .executeTakeFirst();
  if (!person) return false;
  await trx
    .insertInto('section_instructors')
    .values({ section_id: sectionId, person_id: person.id })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
  return true;
}

/** Takes an instructor off a section. Throws Conflict for the last one: nobody would see its students. */
export async function removeInstructor(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  personId: number,
): Promise<void> {
  await getTaughtSection(trx, actor, sectionId);
  const left = (await listInstructors(trx, sectionId)).filter(
    ({ id, substitute_until }) => id !== personId && substitute_until === null,
  );
  if (left.length === 0) throw new Conflict('A section needs at least one instructor.');
  await trx
    .deleteFrom('section_instructors')
    .where('section_id', '=', sectionId)
    .where('person_id', '=', personId)
    .execute();
}

/** A substitute's sign-in, shown once. */
export interface SubstituteSignIn {
  readonly signInName: string;
  readonly password: string;
  readonly name: string;
}

/**
 * Lets somebody run one section's lab until `until`. They get a sign-in of their own, which ends by itself; `hash` is that of `password`, made
 * before the transaction.
 */
export async function addSubstitute(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly sectionId: number;
    readonly givenName: string;
    readonly familyName: string;
    readonly until: string;
    readonly hash: string;
    readonly at: string;
  },
): Promise<string> {
  await getTaughtSection(trx, actor, given.sectionId);
  const { id } = await trx
    .insertInto('people')
    .values({
      role: 'instructor',
      given_name: given.givenName,
      family_name: given.familyName,
      // Replaced at once by one that its number makes unique.
      sign_in_name: `substitute ${given.at} ${given.familyName}`,
      password_hash: given.hash,
      substitute_until: given.until,
      created_at: given.at,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  const signInName = `substitute-${id}`;
  await trx.updateTable('people').set({ sign_in_name: signInName }).where('id', '=', id).execute();
  await trx
    .insertInto('section_instructors')
    .values({ section_id: given.sectionId, person_id: id })
    .execute();
  return signInName;
}
