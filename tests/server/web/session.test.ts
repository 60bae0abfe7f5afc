import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dropExpiredSessions, hashOfSessionId } from '../../../server/web/session-store.ts';
import { signIn, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

describe('a session', () => {
  let built: TestApp;
  beforeEach(async () => {
    built = await testApp();
  });
  afterEach(() => built.close());

  const rows = () => built.store.db.selectFrom('sessions').selectAll().execute();

  it('is kept under the hash of its identifier, never under the identifier', async () => {
    const agent = await signIn(built.app, '003201');
    const [row] = await rows();
    const identifier = decodeURIComponent(agent.cookie().split('=')[1] ?? '').split('.')[0] ?? '';
    expect(row?.id_hash).toBe(hashOfSessionId(identifier));
    expect(JSON.stringify(row)).not.toContain(identifier);
  });

  it('is not made for a visitor who only looks', async () => {
    const agent = visitor(built.app);
    await agent.get('/');
    await agent.get('/no-such-page');
    await agent.get('/assets/none.css');
    expect(await rows()).toEqual([]);
    expect(agent.cookie()).toBe('');
  });

  it('is not written to when a page is read', async () => {
    const agent = await signIn(built.app, '003201');
    const before = built.store.raw.prepare('SELECT total_changes() AS n').get();
    const page = await agent.get('/');
    await agent.get('/password');
    expect(built.store.raw.prepare('SELECT total_changes() AS n').get()).toEqual(before);
    expect(page.headers['set-cookie']).toBeUndefined();
  });

  it('ends twelve hours after signing in, however busy it was', async () => {
    const agent = await signIn(built.app, '003201');
    built.clock.moveHours(11.9);
    expect((await agent.get('/')).statusCode).toBe(200);
    expect((await agent.post('/password', {})).statusCode).toBe(422);
    built.clock.moveHours(0.11);
    expect((await agent.get('/')).headers.location).toBe('/sign-in');
  });

  it('is swept away when its time is over', async () => {
    await signIn(built.app, '003201');
    expect(await dropExpiredSessions(built.store, built.clock)).toBe(0);
    built.clock.moveHours(12);
    expect(await dropExpiredSessions(built.store, built.clock)).toBe(1);
    expect(await rows()).toEqual([]);
  });

  it('is worth nothing with a signature changed, or none', async () => {
    const agent = await signIn(built.app, '003201');
    const [name, value = ''] = agent.cookie().split('=');
    const flipped = value.slice(0, -2) + (value.endsWith('AA') ? 'BB' : 'AA');
    for (const cookie of [`${name}=${flipped}`, `${name}=${value.split('.')[0]}`, `${name}=`]) {
      const response = await built.app.inject({ url: '/', headers: { cookie } });
      expect(response.headers.location).toBe('/sign-in');
    }
  });

  it('ends with the person', async () => {
    const agent = await signIn(built.app, 'vossberg');
    built.store.raw.prepare("DELETE FROM people WHERE sign_in_name = 'vossberg'").run();
    expect((await agent.get('/password')).headers.location).toBe('/sign-in?next=%2Fpassword');
    expect(await rows()).toEqual([]);
  });

  it('comes in a cookie that scripts and other sites cannot use', async () => {
    const agent = visitor(built.app);
    const page = await agent.get('/sign-in');
    const [cookie] = page.cookies;
    expect(cookie).toMatchObject({ name: 'dialbench', httpOnly: true, sameSite: 'Lax', path: '/' });
  });
});
