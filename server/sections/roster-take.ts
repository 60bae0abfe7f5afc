import { randomUUID } from 'node:crypto';
import type { Transaction } from 'kysely';
import type { Store } from '../database/open.ts';
import type { Database } from '../database/tables.ts';
import { writeTransaction } from '../database/transaction.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import { planRoster, type RosterPlan } from './roster-plan.ts';
import type { RosterRow } from './roster-row.ts';

/** A roster that was read: one class, or several of a set to choose from. */
export interface ReadRoster {
  readonly classes: readonly {
    /** Null for a list that belongs to no set. */
    readonly sourcedId: string | null;
    readonly title: string;
    readonly school?: string;
    readonly term?: string;
    readonly rows: readonly RosterRow[];
    readonly teachers: readonly string[];
  }[];
  readonly notes: readonly string[];
}

/** A preview is kept this long; after that the file is sent again. */
const KEPT_HOURS = 4;

/** Keeps what was read until it is confirmed. */
export function keepPreview(
  store: Store,
  actor: Actor,
  sectionId: number,
  read: ReadRoster,
  now: Date,
): Promise<string> {
  const id = randomUUID();
  const old = new Date(now.getTime() - KEPT_HOURS * 3_600_000).toISOString();
  return writeTransaction(store, async (trx) => {
    await trx.deleteFrom('roster_previews').where('at', '<', old).execute();
    await trx
      .insertInto('roster_previews')
      .values({
        id,
        section_id: sectionId,
        made_by: actor.id,
        content: JSON.stringify(read),
        at: now.toISOString(),
      })
      .execute();
    return id;
  });
}

/** A preview of the instructor's own. Throws NotFound, also where it has been kept too long. */
export async function getPreview(
  store: Store,
  actor: Actor,
  sectionId: number,
  id: string,
): Promise<ReadRoster> {
  const row = await store.db
    .selectFrom('roster_previews')
    .where('id', '=', id)
    .where('section_id', '=', sectionId)
    .where('made_by', '=', actor.id)
    .select('content')
    .executeTakeFirst();
  if (!row) throw new NotFound('This list is no longer kept. Load it again.');
  return JSON.parse(row.content) as ReadRoster;
}

export interface Taken {
  readonly added: number;
  readonly addedKnown: number;
  readonly changed: number;
  readonly alreadyThere: number;
  readonly takenOff: number;
}

/**
 * Does what a preview showed, all or nothing, and forgets the preview. Where the roster changed since it was shown, nothing is done and the
 * new plan comes back. `drop` are people on the roster and not in the file who are to be taken off it; their work stays.
 */
export async function takeRoster(
  store: Store,
  actor: Actor,
  sectionId: number,
  given: {
    readonly previewId: string;
    readonly rows: readonly RosterRow[];
    /** The class of the set that the rows are of; its `sourcedId` is null for a list of no set. */
    readonly of: Pick<ReadRoster['classes'][number], 'sourcedId' | 'school' | 'term'>;
    readonly fingerprint: string;
    readonly drop: ReadonlySet<number>;
  },
  now: Date,
): Promise<{ readonly taken: Taken } | { readonly changedSince: true }> {
  const at = now.toISOString();
  return writeTransaction(store, async (trx) => {
    const planned = await planRoster(trx, actor, sectionId, given.rows);
    if ('problems' in planned || planned.plan.fingerprint !== given.fingerprint)
      return { changedSince: true };
    const { plan } = planned;
    for (const student of plan.students) await seat(trx, actor, sectionId, student, at);
    const leavers = plan.missing.filter(({ id }) => given.drop.has(id));
    for (const { id } of leavers) await takeOff(trx, actor, sectionId, id, at);
    if (given.of.sourcedId !== null)
      await trx
        .updateTable('sections')
        .set({
          class_sourced_id: given.of.sourcedId,
          class_school_sourced_id: given.of.school || null,
          class_term_sourced_id: given.of.term || null,
        })
        .where('id', '=', sectionId)
        .execute();
    await trx.deleteFrom('roster_previews').where('id', '=', given.previewId).execute();
    return { taken: countOf(plan, leavers.length) };
  });
}

function countOf({ students }: RosterPlan, takenOff: number): Taken {
  const here = students.filter(({ onRoster }) => onRoster);
  return {
    added: students.filter(({ personId }) => personId === null).length,
    addedKnown: students.filter(({ personId, onRoster }) => personId !== null && !onRoster).length,
    changed: students.filter(({ differs, mayChange }) => differs.length > 0 && mayChange).length,
    alreadyThere: here.length,
    takenOff,
  };
}

/** Puts somebody on a roster, as it was planned; somebody new is made, somebody known changed where this instructor may. */
export async function seat(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  { row, personId, onRoster, differs, mayChange }: RosterPlan['students'][number],
  at: string,
): Promise<void> {
  const named = { given_name: row.givenName, family_name: row.familyName };
  if (personId !== null && mayChange && differs.length > 0)
    await trx
      .updateTable('people')
      .set({ ...named, ...(row.email === null ? {} : { email: row.email }) })
      .where('id', '=', personId)
      .execute();
  if (personId !== null && row.sourcedId !== undefined)
    await trx
      .updateTable('people')
      .set({ sourced_id: row.sourcedId })
      .where('id', '=', personId)
      .where('sourced_id', 'is', null)
      .execute();
  if (onRoster) return;
  const id =
    personId ??
    (
      await trx
        .insertInto('people')
        .values({
          role: 'student',
          ...named,
          sign_in_name: row.studentNumber,
          student_number: row.studentNumber,
          email: row.email,
          sourced_id: row.sourcedId ?? null,
          created_at: at,
        })
        .returning('id')
        .executeTakeFirstOrThrow()
    ).id;
  await trx
    .insertInto('section_students')
    .values({ section_id: sectionId, person_id: id, added_at: at, added_by: actor.id })
    .execute();
}

async function takeOff(
  trx: Transaction<Database>,
  actor: Actor,
  sectionId: number,
  personId: number,
  at: string,
): Promise<void> {
  const left = await trx
    .deleteFrom('section_students')
    .where('section_id', '=', sectionId)
    .where('person_id', '=', personId)
    .returning('added_at')
    .executeTakeFirst();
  if (!left) return;
  await trx
    .insertInto('section_leavers')
    .values({
      section_id: sectionId,
      person_id: personId,
      added_at: left.added_at,
      left_at: at,
      taken_off_by: actor.id,
    })
    .execute();
}
