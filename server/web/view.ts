import fastifyView from '@fastify/view';
import { Eta } from 'eta';
import type { FastifyInstance, FastifyReply } from 'fastify';
import fp from 'fastify-plugin';
import { fromRoot } from '../root.ts';
import type { Actor } from './actor.ts';
import { type KeptPart, sendWithKeptPart } from './kept-part.ts';
import { noticeFor } from './notices.ts';

/** What every view receives besides its own data. */
export interface SharedViewData {
  readonly title: string;
  readonly actor: Actor | null;
  /** The path asked for, without the query. */
  readonly path: string;
  /** A sentence about what has just been done, from `?said=…`. */
  readonly said: string | undefined;
  /** The token for `<input type="hidden" name="_csrf">`; made only when it is printed, so that pages without a form start no session. */
  readonly csrf: { toString(): string };
  /** The address of a bundled file: `asset('main.css')`; undefined when there is none of that name. */
  asset(name: string): string | undefined;
}

declare module 'fastify' {
  interface FastifyReply {
    /** Draws a view: `return reply.page('accounts/sign-in', { title: 'Sign in', … })`. */
    page<Data extends { readonly title: string }>(view: string, data: Data): FastifyReply;
    /** The same with a part that is kept ready, where the view prints `KEPT_PART_MARK`. An answer to GET must repeat nothing that was sent. */
    pageAround<Data extends { readonly title: string }>(
      part: KeptPart,
      view: string,
      data: Data,
    ): Promise<FastifyReply>;
  }
}

export const views = fp(
  async (app: FastifyInstance, options: { asset: (name: string) => string | undefined; cache: boolean }) => {
    const eta = new Eta({ views: fromRoot('views'), cache: options.cache });
    await app.register(fastifyView, { engine: { eta }, root: fromRoot('views'), production: options.cache });

    app.decorateReply('page', function page<
      Data extends { readonly title: string },
    >(this: FastifyReply, view: string, data: Data) {
      return this.view(view, { ...sharedData(this, data.title, options.asset), ...data });
    });

    app.decorateReply('pageAround', async function pageAround<
      Data extends { readonly title: string },
    >(this: FastifyReply, part: KeptPart, view: string, data: Data) {
      const text = await this.viewAsync(view, { ...sharedData(this, data.title, options.asset), ...data });
      return sendWithKeptPart(this, text, part, { echoes: this.request.method !== 'GET' });
    });
  },
);

function sharedData(
  reply: FastifyReply,
  title: string,
  asset: (name: string) => string | undefined,
): SharedViewData {
  const { request } = reply;
  // One token a page, however many forms are on it.
  let token: string | undefined;
  const csrf = () => {
    token ??= reply.generateCsrf();
    return token;
  };
  // Pages hold names and tokens: a copy brought back later would be somebody else's, or refused.
  reply.header('cache-control', 'no-store');
  return {
    title,
    actor: request.actor,
    path: request.url.split('?', 1)[0] ?? '/',
    said: noticeFor((request.query as { said?: unknown } | undefined)?.said),
    csrf: { toString: csrf },
    asset,
  };
}
