import { randomBytes } from 'node:crypto';
import { Signer } from '@fastify/cookie';
import { SESSION_COOKIE } from '../../server/web/session.ts';
import { hashOfSessionId } from '../../server/web/session-store.ts';
import { type Agent, agentWith } from './agent.ts';
import { TEST_SECRET, type TestApp } from './build.ts';

/** Makes the session row that signing in would make, for tests that need many callers and no password. */
export async function sessionFor(built: TestApp, signInName: string): Promise<Agent> {
  const { id } = await built.store.db
    .selectFrom('people')
    .select('id')
    .where('sign_in_name', '=', signInName)
    .executeTakeFirstOrThrow();
  const sessionId = randomBytes(24).toString('base64url');
  const now = built.clock();
  await built.store.db
    .insertInto('sessions')
    .values({
      id_hash: hashOfSessionId(sessionId),
      person_id: id,
      data: JSON.stringify({ personId: id }),
      created_at: now.toISOString(),
      expires_at: new Date(now.getTime() + 3_600_000).toISOString(),
    })
    .execute();
  return agentWith(
    built.app,
    `${SESSION_COOKIE}=${encodeURIComponent(new Signer(TEST_SECRET).sign(sessionId))}`,
  );
}
