import { describe, expect, it } from 'vitest';
import { buildApp } from '../../../server/app.ts';
import { AppError, ERROR_STATUS, type ErrorCode } from '../../../server/web/errors.ts';
import { visitor } from '../../support/agent.ts';
import { TEST_SECRET, testApp, testStore } from '../../support/build.ts';

describe('an error', () => {
  it('is answered with its status and its own sentence, as a page and as JSON', async () => {
    const built = await throwing((code) => new AppError(code, `a sentence about ${code}`));
    for (const code of Object.keys(ERROR_STATUS).filter((one) => one !== 'internal') as ErrorCode[]) {
      const page = await visitor(built.app).get(`/throws/${code}`);
      expect(page.statusCode).toBe(ERROR_STATUS[code]);
      expect(page.body).toContain(`a sentence about ${code}`);
      const json = await visitor(built.app).get(`/throws/${code}`, { accept: 'application/json' });
      expect(json.json()).toEqual({ error: { code, message: `a sentence about ${code}` } });
    }
    await built.close();
  });

  it('that nobody foresaw is one calm sentence, and tells nothing of the inside', async () => {
    const built = await throwing(() => new Error('SELECT secret FROM inside'));
    const page = await visitor(built.app).get('/throws/x');
    expect(page.statusCode).toBe(500);
    expect(page.body).toContain('The server met a fault.');
    expect(page.body).not.toContain('SELECT');
    await built.close();
  });

  it('in the address is a 404 page', async () => {
    const built = await testApp();
    const page = await visitor(built.app).get('/no-such-page');
    expect(page.statusCode).toBe(404);
    expect(page.body).toContain('There is no such page');
    await built.close();
  });

  it('of a body that cannot be read is a 400, and of one too large a 413', async () => {
    const built = await testApp();
    const send = (payload: string) =>
      built.app.inject({
        method: 'POST',
        url: '/sign-in',
        headers: { 'content-type': 'application/json' },
        payload,
      });
    expect((await send('{')).statusCode).toBe(400);
    expect((await send(`"${'a'.repeat(1_100_000)}"`)).statusCode).toBe(413);
    await built.close();
  });
});

/** The server with one more route, which throws what it is told to. */
async function throwing(make: (code: ErrorCode) => Error) {
  const database = await testStore();
  const config = { secureCookies: false, trustProxy: false, logLevel: 'silent' as const };
  const app = await buildApp(config, { database, sessionSecret: TEST_SECRET });
  app.get<{ Params: { code: ErrorCode } }>(
    '/throws/:code',
    { config: { access: 'public' } },
    async (request) => {
      throw make(request.params.code);
    },
  );
  return {
    app,
    async close() {
      await app.close();
      await database.close();
    },
  };
}
