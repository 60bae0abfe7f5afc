import cookie from '@fastify/cookie';
import csrfProtection from '@fastify/csrf-protection';
import session from '@fastify/session';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import type { Store } from '../database/open.ts';
import { type Clock, dropExpiredSessions, SESSION_HOURS, sessionStore } from './session-store.ts';

declare module 'fastify' {
  interface Session {
    personId?: number;
    /** Belongs to the guard against forged requests. */
    _csrf?: string;
  }
}

export interface SessionOptions {
  readonly store: Store;
  readonly clock: Clock;
  readonly secret: string;
  readonly secureCookies: boolean;
}

export const SESSION_COOKIE = 'dialbench';

/** Sessions in the database, and the guard that every request which changes something carries a token from one of our pages. */
export const sessions = fp(async (app: FastifyInstance, options: SessionOptions) => {
  await dropExpiredSessions(options.store, options.clock);
  const sweep = setInterval(() => {
    dropExpiredSessions(options.store, options.clock).catch((err: unknown) => app.log.error({ err }));
  }, 3_600_000);
  sweep.unref();
  app.addHook('onClose', async () => clearInterval(sweep));

  await app.register(cookie);
  await app.register(session, {
    secret: options.secret,
    cookieName: SESSION_COOKIE,
    store: sessionStore(options.store, options.clock),
    saveUninitialized: false,
    rolling: false,
    cookie: {
      path: '/',
      httpOnly: true,
      sameSite: 'lax',
      secure: options.secureCookies,
      maxAge: SESSION_HOURS * 3_600_000,
    },
  });
  await app.register(csrfProtection, { sessionPlugin: '@fastify/session', getToken: tokenOf });

  // preHandler, because only then is the body read, a multipart form's too.
  app.addHook('preHandler', (request, reply, done) => {
    if (['GET', 'HEAD', 'OPTIONS'].includes(request.method) || request.is404) return done();
    app.csrfProtection(request, reply, done);
  });
});

function tokenOf(request: FastifyRequest): string | undefined {
  const field = (request.body as { _csrf?: unknown } | null | undefined)?._csrf;
  if (typeof field === 'string') return field;
  const header = request.headers['x-csrf-token'];
  return typeof header === 'string' ? header : undefined;
}

/** Starts a session for a person under a new identifier, so that one planted before signing in is worth nothing. */
export async function startSession(
  request: FastifyRequest,
  reply: FastifyReply,
  personId: number,
): Promise<void> {
  await request.session.regenerate();
  request.session.personId = personId;
  // Made now, so that no page read later has to write.
  reply.generateCsrf();
}
