import { createHash } from 'node:crypto';
import type { FastifySessionOptions } from '@fastify/session';
import type { Session } from 'fastify';
import { keptQuery } from '../database/kept-query.ts';
import type { Store } from '../database/open.ts';

export type Clock = () => Date;

/** A session ends this long after signing in, however busy it is. */
export const SESSION_HOURS = 12;
/** Before signing in a session only guards a form: it need not live long. */
export const ANONYMOUS_SESSION_HOURS = 2;

/** What is kept for an identifier in the cookie: never the identifier itself, so that a stolen database opens no session. */
export function hashOfSessionId(sessionId: string): string {
  return createHash('sha256').update(sessionId).digest('hex');
}

/** Sessions in the `sessions` table. Expiry is fixed when the row is made and never moved. */
export function sessionStore(store: Store, clock: Clock): NonNullable<FastifySessionOptions['store']> {
  return {
    get(sessionId, callback) {
      read(store, clock, sessionId).then(
        (session) => callback(null, session),
        (error: unknown) => callback(error),
      );
    },
    set(sessionId, session, callback) {
      write(store, clock, sessionId, session).then(() => callback(), callback);
    },
    destroy(sessionId, callback) {
      remove(store, sessionId).then(() => callback(), callback);
    },
  };
}

/** Drops the rows whose time is over; gives how many. */
export async function dropExpiredSessions(store: Store, clock: Clock): Promise<number> {
  const result = await store.db
    .deleteFrom('sessions')
    .where('expires_at', '<=', clock().toISOString())
    .executeTakeFirst();
  return Number(result.numDeletedRows);
}

const openSession = keptQuery((db, { hash, now }: { hash: string; now: string }) =>
  db.selectFrom('sessions').select('data').where('id_hash', '=', hash).where('expires_at', '>', now),
);

async function read(store: Store, clock: Clock, sessionId: string): Promise<Session | null> {
  const now = clock().toISOString();
  const [row] = await openSession(store.db, { hash: hashOfSessionId(sessionId), now });
  return row ? (JSON.parse(row.data) as Session) : null;
}

async function write(store: Store, clock: Clock, sessionId: string, session: Session): Promise<void> {
  // The cookie's own fields are left out: its settings belong to the server, and its expiry to this table.
  const data = JSON.stringify({ ...session, cookie: undefined });
  const now = clock();
  const hours = session.personId === undefined ? ANONYMOUS_SESSION_HOURS : SESSION_HOURS;
  const person_id = session.personId ?? null;
  const expires_at = new Date(now.getTime() + hours * 3_600_000).toISOString();
  await store.db
    .insertInto('sessions')
    .values({
      id_hash: hashOfSessionId(sessionId),
      person_id,
      data,
      created_at: now.toISOString(),
      expires_at,
    })
    .onConflict((conflict) =>
      conflict.column('id_hash').doUpdateSet((row) => ({
        data,
        person_id,
        // The first save that names a person starts the clock; later ones leave it alone.
        expires_at: row
          .case()
          .when('sessions.person_id', 'is', person_id)
          .then(row.ref('sessions.expires_at'))
          .else(expires_at)
          .end(),
      })),
    )
    .execute();
}

async function remove(store: Store, sessionId: string): Promise<void> {
  await store.db.deleteFrom('sessions').where('id_hash', '=', hashOfSessionId(sessionId)).execute();
}
