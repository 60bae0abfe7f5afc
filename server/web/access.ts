import type { FastifyInstance, FastifyReply, FastifyRequest, RouteOptions } from 'fastify';
import fp from 'fastify-plugin';
import type { Role } from '../accounts/tables.ts';
import type { Actor, FindActor } from './actor.ts';
import { Forbidden, NotFound, sendError, wantsJson } from './errors.ts';

export type AccessRule = 'public' | 'signed-in' | Role | readonly Role[];

/** One route as it stands in the table the access test is made from. */
export interface RouteEntry {
  readonly method: string;
  readonly url: string;
  readonly access: AccessRule;
}

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Who may use the route. The server refuses to start when it is left out. */
    access?: AccessRule;
    /** May be used by a person who has yet to change a first password. */
    beforePasswordChange?: boolean;
    /** May be used by a substitute, who is an instructor for a day and for running the lab alone. */
    substitutes?: boolean;
  }
  interface FastifyRequest {
    /** Who is signed in; null for nobody. Behind any rule but 'public', use `actorOf(request)`. */
    actor: Actor | null;
  }
  interface FastifyInstance {
    readonly routeTable: RouteEntry[];
  }
}

/** Who asks, on a route that only signed-in people reach. */
export function actorOf(request: FastifyRequest): Actor {
  if (!request.actor) throw new Error('actorOf was called on a route that anybody may reach');
  return request.actor;
}

/** Closed unless opened by name. Must be registered before every route. */
export const access = fp(async (app: FastifyInstance, options: { findActor: FindActor }) => {
  app.decorate('routeTable', []);
  app.decorateRequest('actor', null);

  app.addHook('onRoute', (route: RouteOptions) => {
    const rule = route.config?.access;
    if (!rule) throw new Error(`${route.method} ${route.url} states no access rule`);
    for (const method of [route.method].flat()) {
      if (method !== 'HEAD') app.routeTable.push({ method, url: route.url, access: rule });
    }
  });

  app.addHook('onRequest', async (request, reply) => {
    const { personId } = request.session;
    if (personId !== undefined) request.actor = (await options.findActor(personId)) ?? null;
    if (request.actor) reply.header('cache-control', 'no-store');
    if (request.is404) return;
    return check(request, reply);
  });
});

async function check(request: FastifyRequest, reply: FastifyReply): Promise<FastifyReply | undefined> {
  const { access: rule, beforePasswordChange, substitutes } = request.routeOptions.config;
  if (rule === 'public') return;
  const { actor } = request;
  if (!actor) return sendToSignIn(request, reply);
  if (actor.mustChangePassword && !beforePasswordChange) {
    if (wantsJson(request)) throw new Forbidden('Choose a password of your own first.');
    return reply.redirect('/password', 303);
  }
  if (actor.substitute && rule !== 'signed-in' && !substitutes)
    throw new Forbidden('A substitute runs the lab and signs. This is for the instructor of the section.');
  if (rule === 'signed-in' || [rule].flat().includes(actor.role)) return;
  if (!rule) throw new NotFound();
  throw new Forbidden();
}

async function sendToSignIn(request: FastifyRequest, reply: FastifyReply): Promise<FastifyReply> {
  if (wantsJson(request)) {
    return sendError(
      request,
      reply,
      'not-signed-in',
      'You are signed out. Sign in again in another tab, then go on here.',
    );
  }
  const next =
    request.method === 'GET' && request.url !== '/' ? `?next=${encodeURIComponent(request.url)}` : '';
  return reply.redirect(`/sign-in${next}`, 303);
}

/** A path on this server to go to after signing in; anything else becomes '/'. */
export function localPath(wanted: unknown): string {
  if (typeof wanted !== 'string' || !wanted.startsWith('/')) return '/';
  // Browsers read a backslash as a slash and drop tabs and line ends, so both could smuggle in another host.
  if (/^\/[/\\]/.test(wanted) || [...wanted].some((character) => character <= ' ' || character === '\\'))
    return '/';
  const base = 'http://this.invalid';
  const url = URL.canParse(wanted, base) ? new URL(wanted, base) : undefined;
  // Dots taken out may leave two slashes in front, which would again be another host.
  return url?.origin === base && !url.pathname.startsWith('//') ? url.pathname + url.search : '/';
}
