import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../server/app.ts';
import { loadProgram, readDemoProgram } from '../../server/commands/load-program.ts';
import { migrate } from '../../server/database/migrate.ts';
import { openCopy, openStore, type Store } from '../../server/database/open.ts';
import type { Assets } from '../../server/web/assets.ts';

export const TEST_SECRET = 'a secret only for tests, long enough';

/** A clock that stands still until a test moves it. */
export interface TestClock {
  (): Date;
  moveHours(hours: number): void;
}

export function testClock(start = '2026-09-14T08:00:00.000Z'): TestClock {
  let now = Date.parse(start);
  const clock = () => new Date(now);
  return Object.assign(clock, {
    moveHours(hours: number) {
      now += hours * 3_600_000;
    },
  });
}

let image: Promise<Buffer> | undefined;

/** A database of the test's own, in memory: migrated and seeded once in a run, then copied. */
export async function testStore(): Promise<Store> {
  image ??= makeImage();
  return openCopy(await image);
}

async function makeImage(): Promise<Buffer> {
  const store = openStore(':memory:');
  migrate(store.raw);
  await loadProgram(store, readDemoProgram(), new Date('2026-09-01T08:00:00.000Z'));
  const serialized = store.raw.serialize();
  await store.close();
  return serialized;
}

export interface TestApp {
  readonly app: FastifyInstance;
  readonly store: Store;
  readonly clock: TestClock;
  close(): Promise<void>;
}

export interface TestOptions {
  readonly seeds?: readonly string[];
  readonly assets?: Assets;
  /** Given: the file's own database is used instead of a copy in memory. */
  readonly store?: Store;
}

/** The whole server on a database of its own, with a clock that stands and seeds `seed-1`, `seed-2` … unless given. */
export async function testApp(options: TestOptions = {}): Promise<TestApp> {
  const store = options.store ?? (await testStore());
  const clock = testClock();
  let drawn = 0;
  const newSeed = () => {
    drawn += 1;
    return options.seeds?.[drawn - 1] ?? `seed-${drawn}`;
  };
  const app = await buildApp(
    { secureCookies: false, trustProxy: false, logLevel: process.env.TEST_LOG === 'on' ? 'error' : 'silent' },
    {
      database: store,
      sessionSecret: TEST_SECRET,
      clock,
      newSeed,
      ...(options.assets && { assets: options.assets }),
    },
  );
  await app.ready();
  return {
    app,
    store,
    clock,
    async close() {
      await app.close();
      await store.close();
    },
  };
}
