import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { demoPassword, signIn, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

describe('signing in', () => {
  let built: TestApp;
  beforeEach(async () => {
    built = await testApp();
  });
  afterEach(() => built.close());

  it('lets a student in with the student number, and letter case does not count in names', async () => {
    const student = await signIn(built.app, '003201');
    expect((await student.get('/')).statusCode).toBe(200);
    const instructor = await signIn(built.app, 'MarchBanks', demoPassword('marchbanks'));
    expect((await instructor.get('/sections')).statusCode).toBe(200);
  });

  it('sends a visitor to the sign-in page and afterwards to the page asked for', async () => {
    const agent = visitor(built.app);
    const asked = await agent.get('/sections/1?a=b');
    expect(asked.headers.location).toBe('/sign-in?next=%2Fsections%2F1%3Fa%3Db');
    const page = await agent.get(String(asked.headers.location));
    expect(page.body).toContain('name="next" value="/sections/1?a=b"');
    const fields = {
      signInName: 'marchbanks',
      password: demoPassword('marchbanks'),
      next: '/sections/1?a=b',
    };
    const response = await agent.post('/sign-in', fields);
    expect(response.headers.location).toBe('/sections/1?a=b');
  });

  it.each([
    'https://evil.example/',
    '//evil.example/',
    '/\\evil.example',
    '/\t/evil.example',
    '\\/evil.example',
    'javascript:alert(1)',
    '/a\r\nset-cookie: x=1',
  ])('never sends anybody on to another place: %j', async (next) => {
    const agent = visitor(built.app);
    await agent.get('/sign-in');
    const fields = { signInName: '003201', password: demoPassword('003201'), next };
    expect((await agent.post('/sign-in', fields)).headers.location).toBe('/');
  });

  it('says the same of a wrong password, an unknown name and a person without a password, and keeps the name alone', async () => {
    await built.store.db
      .updateTable('people')
      .set({ password_hash: null })
      .where('sign_in_name', '=', '003202')
      .execute();
    for (const signInName of ['003201', 'nobody-here', '003202']) {
      const agent = visitor(built.app);
      const response = await agent.post('/sign-in', { signInName, password: 'wrong-password-1' });
      expect(response.statusCode).toBe(422);
      expect(response.body).toContain('The sign-in name or the password is not right.');
      expect(response.body).toContain(`value="${signInName}"`);
      expect(response.body).not.toContain('wrong-password-1');
    }
  });

  it('takes as long over an unknown name as over a wrong password', async () => {
    const time = async (signInName: string) => {
      const agent = visitor(built.app);
      await agent.get('/sign-in');
      const start = performance.now();
      await agent.post('/sign-in', { signInName, password: 'wrong-password-1' });
      return performance.now() - start;
    };
    const median = async (names: string[]) => {
      const times: number[] = [];
      for (const name of names) times.push(await time(name));
      return times.sort((a, b) => a - b)[2] ?? 0;
    };
    const known = await median(['003201', '003202', '003203', '003204', '003205']);
    const unknown = await median(['x1', 'x2', 'x3', 'x4', 'x5']);
    // A hash is by far the longest part: without the dummy one the unknown name would answer several times sooner.
    expect(unknown).toBeGreaterThan(known * 0.5);
  });

  it('says at the field what is missing', async () => {
    const response = await visitor(built.app).post('/sign-in', { signInName: ' ', password: '' });
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('Type your sign-in name.');
    expect(response.body).toContain('Type your password.');
  });

  it('gives a new session identifier, so that one planted before is worth nothing', async () => {
    const agent = visitor(built.app);
    await agent.get('/sign-in');
    const before = agent.cookie();
    await agent.post('/sign-in', { signInName: '003201', password: demoPassword('003201') });
    expect(before).not.toBe('');
    expect(agent.cookie()).not.toBe(before);
    const planted = await built.app.inject({ url: '/', headers: { cookie: before } });
    expect(planted.headers.location).toBe('/sign-in');
  });

  it('stops after ten tries for one name, whatever the password, and says how long to wait', async () => {
    const agent = visitor(built.app);
    for (let tried = 0; tried < 10; tried += 1) {
      expect((await agent.post('/sign-in', { signInName: '003201', password: 'wrong' })).statusCode).toBe(
        422,
      );
    }
    const right = await agent.post('/sign-in', { signInName: '003201', password: demoPassword('003201') });
    expect(right.statusCode).toBe(429);
    expect(right.body).toContain('There have been too many tries. Wait 10 min');
    expect(Number(right.headers['retry-after'])).toBeGreaterThan(0);
    await expect(signIn(built.app, '003202')).resolves.toBeDefined();
  });

  it('stops after a hundred tries from one address, over all names', async () => {
    const agent = visitor(built.app);
    for (let tried = 0; tried < 100; tried += 1)
      await agent.post('/sign-in', { signInName: '', password: '' });
    expect((await agent.post('/sign-in', { signInName: 'another', password: 'wrong' })).statusCode).toBe(429);
  });

  it('signs out on the server, not only in the browser', async () => {
    const agent = await signIn(built.app, '003201');
    const held = agent.cookie();
    const response = await agent.post('/sign-out');
    expect(response.headers.location).toBe('/sign-in?said=signed-out');
    expect((await built.app.inject({ url: '/', headers: { cookie: held } })).headers.location).toBe(
      '/sign-in',
    );
    expect((await agent.get('/sign-in?said=signed-out')).body).toContain('You are signed out.');
  });
});
