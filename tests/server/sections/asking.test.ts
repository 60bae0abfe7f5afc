import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Agent, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { sessionFor } from '../../support/session.ts';

describe('asking to be on a roster', () => {
  let built: TestApp;
  let teacher: Agent;
  beforeAll(async () => {
    built = await testApp();
    teacher = await sessionFor(built, 'marchbanks');
  });
  afterAll(() => built.close());
  const code = () =>
    built.store.raw.prepare('SELECT join_code FROM sections WHERE id = 1').pluck().get() as string | null;
  const asking = (fields: Record<string, string>) =>
    visitor(built.app).post('/join', {
      ...{ code: code() ?? '', student_number: '009901', given_name: 'Ada', family_name: 'Stern', ...fields },
    });
  const waiting = () => built.store.db.selectFrom('join_requests').selectAll().orderBy('id').execute();
  const onRoster = () =>
    built.store.db
      .selectFrom('section_students as seat')
      .innerJoin('people', 'people.id', 'seat.person_id')
      .where('seat.section_id', '=', 1)
      .select(['people.sign_in_name', 'people.given_name', 'people.family_name'])
      .execute();

  it('is closed until the instructor opens it, and a code from before is worth nothing', async () => {
    expect(code()).toBeNull();
    expect((await asking({ code: 'KV91MBG' })).body).toContain('No section has this code now.');
    await teacher.post('/sections/1/asking/open');
    const first = code() ?? '';
    expect(first).toMatch(/^[0-9A-Y]{7}$/);
    await teacher.post('/sections/1/asking/open');
    expect(code()).not.toBe(first);
    expect((await asking({ code: first })).statusCode).toBe(422);
  });

  it('says what is wrong beside each field and keeps what was typed', async () => {
    const bad = await asking({
      student_number: 'has space',
      family_name: ' ',
      email: 'nonsense',
      given_name: 'Kept',
    });
    expect(bad.statusCode).toBe(422);
    for (const words of ['Use letters, digits, dots', 'There is no family name.', 'email address', 'Kept'])
      expect(bad.body).toContain(words);
    expect(await waiting()).toEqual([]);
  });

  it('tells nobody who is here: a known number and a new one are answered alike, and asking twice waits once', async () => {
    const fresh = await asking({});
    const known = await asking({ student_number: '003204', given_name: 'Mallory', family_name: 'Hood' });
    const twice = await asking({ given_name: 'Adah' });
    for (const answer of [fresh, known, twice]) expect(answer.headers.location).toBe('/join?asked=yes');
    expect((await waiting()).map(({ given_name }) => given_name)).toEqual(['Adah', 'Mallory']);
  });

  it('puts nobody on the roster before the instructor agrees, and renames nobody', async () => {
    expect((await onRoster()).map((one) => one.sign_in_name)).not.toContain('009901');
    const page = await teacher.get('/sections/1/asking');
    expect(page.body).toContain('New here.');
    expect(page.body).toContain('This number is known here as');
    expect((await teacher.get('/sections/1')).body).toContain('Asking to be on it: 2 wait');
    const [one, other] = await waiting();
    await teacher.post(`/sections/1/asking/${one?.id}/take`);
    await teacher.post(`/sections/1/asking/${other?.id}/take`);
    const roster = await onRoster();
    expect(roster).toContainEqual({ sign_in_name: '009901', given_name: 'Adah', family_name: 'Stern' });
    expect(roster.find((one) => one.sign_in_name === '003204')?.given_name).not.toBe('Mallory');
    expect(await waiting()).toEqual([]);
    expect((await teacher.post(`/sections/1/asking/${one?.id}/take`)).statusCode).toBe(404);
  });

  it('declines without a trace, refuses a number that is no student’s, and shows nothing to another instructor', async () => {
    await asking({ student_number: '009903' });
    await asking({ student_number: 'duenas' });
    const [one, staff] = await waiting();
    expect((await teacher.get('/sections/1/asking')).body).toContain('somebody who is not a student');
    const refused = await teacher.post(`/sections/1/asking/${staff?.id}/take`);
    expect([refused.statusCode, refused.body.includes('Not done')]).toEqual([422, true]);
    const other = await sessionFor(built, 'duenas');
    expect((await other.post(`/sections/2/asking/${one?.id}/take`)).statusCode).toBe(404);
    await teacher.post(`/sections/1/asking/${one?.id}/decline`);
    await teacher.post(`/sections/1/asking/${staff?.id}/decline`);
    expect(await waiting()).toEqual([]);
    expect((await onRoster()).map((seat) => seat.sign_in_name)).not.toContain('009903');
  });

  it('is over when the section is archived or closed', async () => {
    const was = code() ?? '';
    await teacher.post('/sections/1/archive');
    expect((await asking({ code: was })).statusCode).toBe(422);
    await teacher.post('/sections/1/archive');
    await teacher.post('/sections/1/asking/close');
    expect(code()).toBeNull();
    expect((await asking({ code: was })).statusCode).toBe(422);
  });

  it('lets no more than a hundred wait', async () => {
    await teacher.post('/sections/1/asking/open');
    built.store.raw.exec(
      `INSERT INTO join_requests (section_id, given_name, family_name, student_number, at)
       SELECT 1, 'N', 'N', 'x' || value, 'now' FROM json_each('[${Array.from({ length: 100 }, (_, n) => n).join(',')}]')`,
    );
    expect((await asking({ student_number: '009999' })).body).toContain('Too many wait');
  });
});
