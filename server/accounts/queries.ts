import type { Kysely, Selectable, Transaction } from 'kysely';
import { keptQuery } from '../database/kept-query.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import type { PeopleTable } from './tables.ts';

const actorById = keptQuery((db, { personId }: { personId: number }) =>
  db
    .selectFrom('people')
    .select([
      'id',
      'role',
      'given_name',
      'family_name',
      'sign_in_name',
      'must_change_password',
      'demo',
      'substitute_until',
    ])
    .where('id', '=', personId),
);

/** The person behind a session, without anything secret; undefined when there is none any more, or a substitute's day is over. */
export async function findActor(
  db: Kysely<Database>,
  personId: number,
  now: string,
): Promise<Actor | undefined> {
  const [row] = await actorById(db, { personId });
  if (row && row.substitute_until !== null && row.substitute_until <= now) return undefined;
  return (
    row && {
      id: row.id,
      role: row.role,
      givenName: row.given_name,
      familyName: row.family_name,
      signInName: row.sign_in_name,
      mustChangePassword: row.must_change_password === 1,
      demo: row.demo === 1,
      substitute: row.substitute_until !== null,
    }
  );
}

export type Credentials = Pick<
  Selectable<PeopleTable>,
  'id' | 'sign_in_name' | 'password_hash' | 'substitute_until'
>;

/** What signing in is checked against. Letter case does not count. */
export function findCredentials(db: Kysely<Database>, signInName: string): Promise<Credentials | undefined> {
  return db
    .selectFrom('people')
    .select(['id', 'sign_in_name', 'password_hash', 'substitute_until'])
    .where('sign_in_name', '=', signInName)
    .executeTakeFirst();
}

/**
 * Sets a person's password and ends their sessions, all but the one named.
 * With `mustChange` it is a first password, to be replaced at the next sign-in.
 */
export async function setPassword(
  trx: Transaction<Database>,
  personId: number,
  password: { readonly hash: string; readonly mustChange: boolean },
  keepSessionHash?: string,
): Promise<void> {
  await trx
    .updateTable('people')
    .set({ password_hash: password.hash, must_change_password: password.mustChange ? 1 : 0 })
    .where('id', '=', personId)
    .execute();
  await trx
    .deleteFrom('sessions')
    .where('person_id', '=', personId)
    .where('id_hash', '!=', keepSessionHash ?? '')
    .execute();
}

/** The demo program's people, who only exist where it was loaded. */
export function listDemoPeople(db: Kysely<Database>) {
  return db
    .selectFrom('people')
    .select(['role', 'given_name', 'family_name', 'sign_in_name'])
    .where('demo', '=', 1)
    .orderBy('id')
    .execute();
}
