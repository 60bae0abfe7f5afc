import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Agent, demoPassword, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { pasteRoster } from './load-roster.ts';

const PASSWORD = /[a-z0-9]{4}-[a-z0-9]{4}-[a-z0-9]{4}/g;
const OWN = 'my own four words';

describe('first passwords', () => {
  let built: TestApp;
  let agent: Agent;
  beforeEach(async () => {
    built = await testApp();
    agent = await signIn(built.app, 'marchbanks');
    const pasted = 'given_name,family_name,student_number\nA,Aa,901\nB,Bb,902\n';
    await pasteRoster(agent, 1, pasted);
  });
  afterEach(() => built.close());

  const idOf = async (number: string) =>
    (
      await built.store.db
        .selectFrom('people')
        .select('id')
        .where('student_number', '=', number)
        .executeTakeFirstOrThrow()
    ).id;
  const give = async (number: string, fields = {}, section = 1) =>
    agent.post(`/sections/${section}/students/${await idOf(number)}/first-password`, fields);
  // Each stands twice on the page: in the table, and on a slip to be cut off.
  const shown = (body: string) => [...new Set(body.match(PASSWORD) ?? [])];
  const placeInSectionB = async (number: string) =>
    built.store.db
      .insertInto('section_students')
      .values({ section_id: 2, person_id: await idOf(number), added_at: '2026-09-01T00:00:00.000Z' })
      .execute();

  it('are given to all who have none, shown once and stored only hashed', async () => {
    const response = await agent.post('/sections/1/first-passwords');
    const passwords = shown(response.body);
    expect(passwords).toHaveLength(2);
    expect(response.body).toMatch(/Aa, A<.*901/);
    const everything = JSON.stringify(await built.store.db.selectFrom('people').selectAll().execute());
    for (const password of passwords) expect(everything).not.toContain(password);
    expect(shown((await agent.get('/sections/1')).body)).toEqual([]);
    expect(shown((await agent.post('/sections/1/first-passwords')).body)).toEqual([]);
  });

  it('open the door once, to the choice of an own one', async () => {
    const [password = ''] = shown((await give('901')).body);
    const student = await signIn(built.app, '901', password);
    expect((await student.get('/')).headers.location).toBe('/password');
    await student.post('/password', { current: password, password: OWN, again: OWN });
    expect((await student.get('/')).statusCode).toBe(200);
  });

  it('may be given anew as long as the student has not chosen one, and the sessions end', async () => {
    const [first = ''] = shown((await give('901')).body);
    const student = await signIn(built.app, '901', first);
    const [second = ''] = shown((await give('901')).body);
    expect(second).not.toBe(first);
    expect((await student.get('/password')).headers.location).toContain('/sign-in');
    await expect(signIn(built.app, '901', first)).rejects.toThrow();
    await expect(signIn(built.app, '901', second)).resolves.toBeDefined();
  });

  it('never replace a password of the student unless reset is pressed', async () => {
    const student = await signIn(built.app, '003201');
    const refused = await give('003201');
    expect(refused.statusCode).toBe(409);
    expect(refused.body).toContain('This student has chosen a password of their own.');
    expect((await student.get('/')).statusCode).toBe(200);

    const [password = ''] = shown((await give('003201', { reset: 'yes' })).body);
    expect((await student.get('/')).headers.location).toBe('/sign-in');
    await expect(signIn(built.app, '003201', demoPassword('003201'))).rejects.toThrow();
    const again = await signIn(built.app, '003201', password);
    expect((await again.get('/')).headers.location).toBe('/password');
  });

  it('are refused for a student who is also in a section of another instructor, reset or not', async () => {
    await placeInSectionB('901');
    for (const fields of [{}, { reset: 'yes' }]) {
      const response = await give('901', fields);
      expect(response.statusCode).toBe(409);
      expect(response.body).toContain('also in a section of another instructor');
    }
    const all = await agent.post('/sections/1/first-passwords');
    expect(shown(all.body)).toHaveLength(1);
    expect(all.body).not.toContain('Aa, A');
    expect((await agent.get('/sections/1')).body).toContain('also in another instructor’s section');
  });

  it('are allowed when the instructor teaches both of the sections', async () => {
    await placeInSectionB('901');
    const { id } = await built.store.db
      .selectFrom('people')
      .select('id')
      .where('sign_in_name', '=', 'marchbanks')
      .executeTakeFirstOrThrow();
    await built.store.db.insertInto('section_instructors').values({ section_id: 2, person_id: id }).execute();
    expect(shown((await give('901')).body)).toHaveLength(1);
  });

  it("are not given to another section's student, nor through another's section", async () => {
    expect((await give('003204')).statusCode).toBe(404);
    expect((await give('003204', {}, 2)).statusCode).toBe(404);
    expect((await give('901', {}, 2)).statusCode).toBe(404);
  });

  it('cannot be got by putting a stranger on the own roster first', async () => {
    await pasteRoster(agent, 1, 'given_name,family_name,student_number\nBo,Li,003204\n');
    expect((await give('003204', { reset: 'yes' })).statusCode).toBe(409);
    await expect(signIn(built.app, '003204')).resolves.toBeDefined();
  });
});
