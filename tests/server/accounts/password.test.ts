import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { demoPassword, signIn, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

const NEW = 'four words in a row';

describe('changing the password', () => {
  let built: TestApp;
  beforeEach(async () => {
    built = await testApp();
  });
  afterEach(() => built.close());

  it('takes the new one, refuses the old one, and ends the other sessions', async () => {
    const here = await signIn(built.app, '003201');
    const elsewhere = await signIn(built.app, '003201');
    const response = await here.post('/password', {
      current: demoPassword('003201'),
      password: NEW,
      again: NEW,
    });
    expect(response.headers.location).toBe('/password?said=password-changed');
    expect((await here.get('/')).statusCode).toBe(200);
    expect((await elsewhere.get('/')).headers.location).toBe('/sign-in');
    await expect(signIn(built.app, '003201')).rejects.toThrow('could not sign in');
    await expect(signIn(built.app, '003201', NEW)).resolves.toBeDefined();
  });

  const right = demoPassword('marchbanks');
  it.each([
    [
      'nine characters',
      { current: right, password: '123456789', again: '123456789' },
      'Use at least 10 characters.',
    ],
    [
      '129 characters',
      { current: right, password: 'a'.repeat(129), again: 'a'.repeat(129) },
      'Use at most 128 characters.',
    ],
    [
      'the sign-in name',
      { current: right, password: 'MARCHBANKS', again: 'MARCHBANKS' },
      'must not be your sign-in name',
    ],
    [
      'the same as now',
      { current: right, password: right, again: right },
      'This is the password you have now.',
    ],
    [
      'two different ones',
      { current: right, password: NEW, again: `${NEW}.` },
      'This is not the same as the new password.',
    ],
    [
      'a wrong present one',
      { current: 'wrong', password: NEW, again: NEW },
      'This is not the password you have now.',
    ],
  ])('refuses %s beside the field, and prints no password', async (_, fields, sentence) => {
    const agent = await signIn(built.app, 'marchbanks');
    const response = await agent.post('/password', fields);
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain(sentence);
    for (const typed of Object.values(fields)) expect(response.body).not.toContain(`value="${typed}"`);
    await expect(signIn(built.app, 'marchbanks')).resolves.toBeDefined();
  });

  it.each([10, 128])('takes %i characters', async (length) => {
    const agent = await signIn(built.app, 'marchbanks');
    const password = 'ab'.repeat(length / 2);
    const response = await agent.post('/password', { current: right, password, again: password });
    expect(response.statusCode).toBe(303);
  });
});

describe('a first password', () => {
  it('has to be changed before anything else', async () => {
    const built = await testApp();
    await built.store.db
      .updateTable('people')
      .set({ must_change_password: 1 })
      .where('sign_in_name', '=', '003201')
      .execute();
    const agent = await signIn(built.app, '003201');
    expect((await agent.get('/')).headers.location).toBe('/password');
    const json = await agent.get('/', { accept: 'application/json' });
    expect([json.statusCode, json.json().error.code]).toEqual([403, 'forbidden']);
    expect((await agent.get('/password')).body).toContain('Choose your own password');
    await agent.post('/password', { current: demoPassword('003201'), password: NEW, again: NEW });
    expect((await agent.get('/')).statusCode).toBe(200);
    await built.close();
  });

  it('does not keep anybody from signing out', async () => {
    const built = await testApp();
    await built.store.db
      .updateTable('people')
      .set({ must_change_password: 1 })
      .where('sign_in_name', '=', '003201')
      .execute();
    const agent = await signIn(built.app, '003201');
    expect((await agent.post('/sign-out')).headers.location).toBe('/sign-in?said=signed-out');
    await built.close();
  });

  it('of nobody: a visitor has no password page', async () => {
    const built = await testApp();
    expect((await visitor(built.app).get('/password')).headers.location).toBe('/sign-in?next=%2Fpassword');
    await built.close();
  });
});
