import { type Kysely, sql } from 'kysely';
import { displayName } from '../accounts/index.ts';
import type { Store } from '../database/open.ts';
import type { Database } from '../database/tables.ts';
import { writeTransaction } from '../database/transaction.ts';
import type { Actor } from '../web/actor.ts';
import type { AuditKind } from './tables.ts';

/** Looked at again within so long it is the same look. */
const SAME_LOOK_MS = 60 * 60_000;

/** Writes down that somebody looked at a student's record. */
export async function noteLook(
  store: Store,
  actor: Actor,
  studentId: number,
  what: string,
  now: Date,
): Promise<void> {
  const before = await store.db
    .selectFrom('record_looks')
    .where('student_id', '=', studentId)
    .where('looked_by', '=', actor.id)
    .where('what', '=', what)
    .where('at', '>', new Date(now.getTime() - SAME_LOOK_MS).toISOString())
    .select('id')
    .executeTakeFirst();
  if (before !== undefined) return;
  const look = { looked_by: actor.id, student_id: studentId, what, at: now.toISOString() };
  await writeTransaction(store, (trx) => trx.insertInto('record_looks').values(look).execute());
}

export interface AuditEvent {
  readonly kind: AuditKind;
  readonly ref: string;
  readonly at: string;
  /** Blank for what came with the program. */
  readonly who: string;
  readonly aboutId: number | null;
  readonly about: string;
  readonly what: string;
  readonly reason: string;
}

export interface AuditAsked {
  /** Every word must be in what is said, in the reason, or in a name. */
  readonly words: string;
  readonly kind: AuditKind | null;
  /** First and last day, UTC; blank for no end. */
  readonly from: string;
  readonly to: string;
  readonly page: number;
}

/** So many stand on a page. */
export const EVENTS_ON_A_PAGE = 100;

/** What was done to the record, newest first, a page of it and one more where there is more. For coordinators. */
export async function searchAudit(db: Kysely<Database>, asked: AuditAsked): Promise<readonly AuditEvent[]> {
  let query = db
    .selectFrom('audit_events as event')
    .leftJoin('people as who', 'who.id', 'event.who_id')
    .leftJoin('people as about', 'about.id', 'event.about_id')
    .select([
      ...(['event.kind', 'event.ref', 'event.at', 'event.about_id', 'event.what', 'event.reason'] as const),
      ...(['who.given_name as whoGiven', 'who.family_name as whoFamily'] as const),
      ...(['about.given_name as aboutGiven', 'about.family_name as aboutFamily'] as const),
    ]);
  if (asked.kind !== null) query = query.where('event.kind', '=', asked.kind);
  if (asked.from !== '') query = query.where('event.at', '>=', asked.from);
  if (asked.to !== '') query = query.where('event.at', '<=', `${asked.to}T23:59:59.999Z`);
  for (const word of asked.words.split(/\s+/).filter(Boolean)) {
    const like = `%${word.replaceAll(/[\\%_]/g, (one) => `\\${one}`)}%`;
    query = query.where(
      sql<boolean>`(event.what || ' ' || event.reason || ' ' || event.ref || ' ' || coalesce(who.given_name || ' ' || who.family_name, '')
        || ' ' || coalesce(about.given_name || ' ' || about.family_name || ' ' || about.student_number, '')) LIKE ${like} ESCAPE '\\'`,
    );
  }
  const rows = await query
    .orderBy('event.at', 'desc')
    .orderBy('event.ref', 'desc')
    .limit(EVENTS_ON_A_PAGE + 1)
    .offset((asked.page - 1) * EVENTS_ON_A_PAGE)
    .execute();
  const name = (given: string | null, family: string | null) =>
    given === null || family === null ? '' : displayName({ given_name: given, family_name: family });
  return rows.map((row) => ({
    ...{ kind: row.kind, ref: row.ref, at: row.at, what: row.what, reason: row.reason },
    ...{ who: name(row.whoGiven, row.whoFamily), aboutId: row.about_id },
    about: name(row.aboutGiven, row.aboutFamily),
  }));
}
