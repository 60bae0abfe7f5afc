import { randomBytes } from 'node:crypto';
import formbody from '@fastify/formbody';
import multipart from '@fastify/multipart';
import rateLimit from '@fastify/rate-limit';
import Fastify, { type FastifyInstance } from 'fastify';
import { accounts, findActor } from './accounts/index.ts';
import { attempts } from './attempts/index.ts';
import { audit } from './audit/index.ts';
import { competencies } from './competencies/index.ts';
import { type Config, UPLOAD_BYTES } from './config.ts';
import { credentials, type SigningKeys, signingKeys } from './credentials/index.ts';
import type { Store } from './database/open.ts';
import { demonstrations } from './demonstrations/index.ts';
import { drills } from './drills/index.ts';
import { exports } from './exports/index.ts';
import { floor } from './floor/index.ts';
import { gaugeStudies } from './gauge-study/index.ts';
import { home } from './home/index.ts';
import { lessons } from './lessons/index.ts';
import { paper } from './paper/index.ts';
import { people } from './people/index.ts';
import { program } from './program/index.ts';
import { record } from './record/index.ts';
import { review } from './review/index.ts';
import { sections } from './sections/index.ts';
import { shop } from './shop/index.ts';
import { signOffs } from './sign-offs/index.ts';
import { teaching } from './teaching/index.ts';
import { transcripts } from './transcripts/index.ts';
import { visit } from './visit/index.ts';
import { weakSpots } from './weak-spots/index.ts';
import { access } from './web/access.ts';
import { type Assets, assets, NO_ASSETS } from './web/assets.ts';
import { closing } from './web/closing.ts';
import { errors } from './web/errors.ts';
import { headers } from './web/headers.ts';
import { sessions } from './web/session.ts';
import type { Clock } from './web/session-store.ts';
import { views } from './web/view.ts';

declare module 'fastify' {
  interface FastifyInstance {
    readonly store: Store;
    readonly clock: Clock;
    /** A new seed for a practice engine; unguessable, and never shown before grading. */
    readonly newSeed: () => string;
    readonly signingKeys: SigningKeys;
  }
}

/** What the server is made of besides its settings; tests hand in their own. */
export interface Parts {
  readonly database: Store;
  readonly sessionSecret: string;
  readonly clock?: Clock;
  readonly newSeed?: () => string;
  readonly assets?: Assets;
}

export type AppConfig = Pick<Config, 'secureCookies' | 'trustProxy' | 'logLevel'>;

/** Builds the whole server without listening. Closing it leaves the database open. */
export async function buildApp(config: AppConfig, parts: Parts): Promise<FastifyInstance> {
  const app = Fastify({
    logger: { level: config.logLevel },
    trustProxy: config.trustProxy,
    bodyLimit: UPLOAD_BYTES + 50_000,
  });
  const store = parts.database;
  const clock = parts.clock ?? (() => new Date());
  const bundled = parts.assets ?? NO_ASSETS;
  app.decorate('store', store);
  app.decorate('clock', clock);
  app.decorate('newSeed', parts.newSeed ?? (() => randomBytes(16).toString('hex')));

  app.decorate('signingKeys', signingKeys(store, clock, parts.sessionSecret));

  await app.register(closing);
  await app.register(headers, { secure: config.secureCookies });
  await app.register(formbody);
  await app.register(multipart, {
    attachFieldsToBody: 'keyValues',
    limits: { fileSize: UPLOAD_BYTES, fieldSize: UPLOAD_BYTES, files: 1, fields: 20 },
  });
  await app.register(sessions, {
    store,
    clock,
    secret: parts.sessionSecret,
    secureCookies: config.secureCookies,
  });
  await app.register(access, {
    findActor: (personId) => findActor(store.db, personId, clock().toISOString()),
  });
  await app.register(views, { asset: bundled.address, cache: true });
  await app.register(errors);
  await app.register(rateLimit, { global: false });
  await app.register(assets, { assets: bundled });

  await app.register(home);
  await app.register(accounts);
  await app.register(sections);
  await app.register(attempts);
  await app.register(demonstrations);
  await app.register(drills);
  await app.register(lessons);
  await app.register(review);
  await app.register(competencies);
  await app.register(teaching);
  await app.register(weakSpots);
  await app.register(paper);
  await app.register(shop);
  await app.register(signOffs);
  await app.register(gaugeStudies);
  await app.register(floor);
  await app.register(record);
  await app.register(exports);
  await app.register(transcripts);
  await app.register(credentials);
  await app.register(visit);
  await app.register(audit);
  await app.register(people);
  await app.register(program);
  return app;
}
