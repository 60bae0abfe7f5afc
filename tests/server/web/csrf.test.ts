import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { signIn, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

describe('a request that changes something', () => {
  let built: TestApp;
  beforeEach(async () => {
    built = await testApp();
  });
  afterEach(() => built.close());

  it.each([
    ['none', {}],
    ['an empty one', { _csrf: '' }],
    ['a made-up one', { _csrf: 'aaaaaaaa-bbbbbbbbbbbbbbbbbbbbbbbbbbb' }],
  ])('is refused with %s for a token', async (_, fields) => {
    const agent = await signIn(built.app, 'marchbanks');
    const response = await built.app.inject({
      method: 'POST',
      url: '/sign-out',
      headers: {
        cookie: agent.cookie(),
        'content-type': 'application/x-www-form-urlencoded',
        accept: 'text/html',
      },
      payload: new URLSearchParams(fields).toString(),
    });
    expect(response.statusCode).toBe(403);
    expect(response.body).toContain('This page had been open too long');
    expect((await agent.get('/sections')).statusCode).toBe(200);
  });

  it("is refused with somebody else's token", async () => {
    const agent = await signIn(built.app, 'marchbanks');
    const other = await signIn(built.app, 'duenas');
    expect((await agent.post('/sign-out', { _csrf: await other.token() })).statusCode).toBe(403);
  });

  it('is refused without a session', async () => {
    const response = await built.app.inject({ method: 'POST', url: '/sign-in', payload: {} });
    expect(response.statusCode).toBe(403);
  });

  it('is refused as a multipart form without a token, once the form is read', async () => {
    const agent = await signIn(built.app, 'marchbanks');
    const file = {
      field: 'file',
      name: 'roster.csv',
      body: Buffer.from('given_name,family_name,student_number\nA,B,1\n'),
    };
    expect((await agent.postFile('/sections/1/roster', file, { _csrf: 'wrong' })).statusCode).toBe(403);
    expect((await agent.postFile('/sections/1/roster', file)).statusCode).toBe(303);
  });

  it('is taken as JSON with the token in its header, and refused in JSON without', async () => {
    const agent = await signIn(built.app, 'marchbanks');
    expect((await agent.postJson('/password', {})).statusCode).toBe(422);
    const refused = await built.app.inject({
      method: 'POST',
      url: '/password',
      headers: { cookie: agent.cookie(), accept: 'application/json' },
      payload: {},
    });
    expect([refused.statusCode, refused.json().error.code]).toEqual([403, 'forbidden']);
  });

  it('cannot carry the token in the address', async () => {
    const agent = await signIn(built.app, 'marchbanks');
    const token = encodeURIComponent(await agent.token());
    expect((await agent.post(`/sign-out?_csrf=${token}`, { _csrf: '' })).statusCode).toBe(403);
  });

  it('is taken from a visitor on the sign-in page', async () => {
    expect((await visitor(built.app).post('/sign-in', {})).statusCode).toBe(422);
  });
});
