import Fastify from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { access, localPath } from '../../../server/web/access.ts';
import { signIn, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

describe('a route', () => {
  it('without an access rule keeps the server from starting', async () => {
    const app = Fastify();
    await app.register(access, { findActor: async () => undefined });
    expect(() => app.get('/open', async () => 'x')).toThrow('GET /open states no access rule');
    expect(() => app.get('/open', { config: {} }, async () => 'x')).toThrow('states no access rule');
    await app.close();
  });

  it('with a rule is in the table, once, without its HEAD', async () => {
    const app = Fastify();
    await app.register(access, { findActor: async () => undefined });
    app.get('/open', { config: { access: ['instructor', 'coordinator'] } }, async () => 'x');
    expect(app.routeTable).toEqual([{ method: 'GET', url: '/open', access: ['instructor', 'coordinator'] }]);
    await app.close();
  });
});

describe('who may go where', () => {
  let built: TestApp;
  beforeAll(async () => {
    built = await testApp();
  });
  afterAll(() => built.close());

  it('is answered in JSON to a program: 401 for nobody, 403 for another role', async () => {
    const json = { accept: 'application/json' };
    const nobody = await visitor(built.app).get('/sections', json);
    expect([nobody.statusCode, nobody.json().error.code]).toEqual([401, 'not-signed-in']);
    const student = await (await signIn(built.app, '003201')).get('/sections', json);
    expect([student.statusCode, student.json().error.code]).toEqual([403, 'forbidden']);
  });

  it('is answered with a page to a person', async () => {
    const student = await (await signIn(built.app, '003202')).get('/sections');
    expect(student.statusCode).toBe(403);
    expect(student.body).toContain('This page is for another role.');
  });

  it("does not tell another's section from none", async () => {
    const agent = await signIn(built.app, 'marchbanks');
    const [anothers, none] = [await agent.get('/sections/2'), await agent.get('/sections/999')];
    expect([anothers.statusCode, none.statusCode]).toEqual([404, 404]);
    expect(anothers.body.replace(/value="[^"]*"/g, '')).toBe(none.body.replace(/value="[^"]*"/g, ''));
  });

  it.each(['/sections/0', '/sections/-1', '/sections/1x', '/sections/1.0', '/sections/99999999999999999999'])(
    'finds nothing at %s',
    async (url) => {
      const agent = await signIn(built.app, 'duenas');
      expect((await agent.get(url)).statusCode).toBe(404);
    },
  );

  it('keeps no copy of a page in the browser, signed in or not', async () => {
    expect((await visitor(built.app).get('/sign-in')).headers['cache-control']).toBe('no-store');
    const agent = await signIn(built.app, 'vossberg');
    expect((await agent.get('/password')).headers['cache-control']).toBe('no-store');
  });
});

describe('localPath', () => {
  it.each([
    ['/sections/1?x=1', '/sections/1?x=1'],
    ['/', '/'],
    ['', '/'],
    [undefined, '/'],
    [['/a', '/b'], '/'],
    ['sections', '/'],
    ['//evil.example', '/'],
    ['/\\evil.example', '/'],
    ['/%5C%5Cevil.example', '/%5C%5Cevil.example'],
    ['/a/../..//evil.example', '/'],
    ['http://evil.example', '/'],
  ])('makes of %j %j', (wanted, expected) => {
    expect(localPath(wanted)).toBe(expected);
  });
});
