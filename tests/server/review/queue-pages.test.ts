import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { sessionFor } from '../../support/session.ts';

describe('going through what needs a person', () => {
  let built: TestApp;
  let teacher: Agent;
  let student: Agent;
  beforeAll(async () => {
    built = await testApp();
    teacher = await sessionFor(built, 'marchbanks');
    student = await sessionFor(built, '003201');
    // Item 3 is a graded run with three tries. Nothing is done at the engine, so each is a stop.
    for (const tryNumber of [1, 2, 3])
      await givenAttempt(built.store, {
        ...{
          id: `try-${tryNumber}`,
          seed: `queue-${tryNumber}`,
          signInName: '003201',
          sectionId: 1,
          itemId: 3,
        },
        ...{ tryNumber, at: `2026-09-1${tryNumber}T09:00:00.000Z`, habits: { skip: () => true } },
      });
  });
  afterAll(() => built.close());
  const at = (id: string) => `/sections/1/attempts/${id}`;

  it('lists them, and the old address of the disagreements leads there', async () => {
    const old = await teacher.get('/sections/1/disagreements');
    expect([old.statusCode, old.headers.location]).toEqual([301, '/sections/1/review']);
    const page = await teacher.get('/sections/1/review');
    expect(page.body).toContain('3 wait');
    expect(page.body.match(/last try, below 80 points/g)).toHaveLength(1);
    expect((await teacher.get('/sections/1')).body).toContain('Review: 3 wait');
  });

  it('goes from one to the next with “Seen”, and back to the list after the last', async () => {
    expect((await teacher.get(at('try-1'))).body).toContain(`href="${at('try-2')}"`);
    const seen = await teacher.post(`${at('try-1')}/looks`, {});
    expect(seen.headers.location).toBe(at('try-2'));
    expect((await teacher.post(`${at('try-2')}/looks`, {})).headers.location).toBe(at('try-3'));
    expect((await teacher.post(`${at('try-3')}/looks`, {})).headers.location).toBe(
      '/sections/1/review?said=queue-done',
    );
    const page = await teacher.get('/sections/1/review');
    expect(page.body).toContain('Nothing waits for you');
    expect(page.body).toContain('Settled: 3');
  });

  it('keeps a comment for the student, and what was typed when it is too long', async () => {
    const blank = await teacher.post(`${at('try-2')}/comments`, { comment: ' ', gives: 'nothing' });
    expect([blank.statusCode, blank.body.includes('Write what the student is to read.')]).toEqual([
      422,
      true,
    ]);
    const long = 'y'.repeat(1001);
    expect(
      (await teacher.post(`${at('try-2')}/comments`, { comment: long, gives: 'nothing' })).body,
    ).toContain(long);
    expect((await teacher.post(`${at('try-2')}/comments`, { comment: 'x', gives: 'gold' })).statusCode).toBe(
      400,
    );
    await teacher.post(`${at('try-2')}/comments`, {
      comment: 'Zero on the <b>base circle</b>.',
      gives: 'nothing',
    });
    expect((await student.get('/attempts/try-2/result')).body).toContain(
      'Zero on the &lt;b&gt;base circle&lt;/b&gt;.',
    );
  });

  it('gives one more try, which the student can begin; without it there was none left', async () => {
    const begin = () => student.post('/items/3/attempts', { sectionId: '1' });
    expect((await begin()).statusCode).toBe(409);
    expect((await student.get('/')).body).toContain('All tries are used.');
    await teacher.post(`${at('try-3')}/comments`, { comment: 'Once more, slowly.', gives: 'further-try' });
    const home = await student.get('/');
    expect(home.body).toContain('3 of 4 tries used, one of them given by your instructor');
    expect(home.body).toContain('Your instructor’s comment');
    expect((await student.get('/attempts/try-3/result')).body).toContain('another try given');
    const begun = await begin();
    expect(begun.statusCode).toBe(303);
    expect((await student.get(begun.headers.location as string)).body).toContain('try 4 of 4');
    expect((await teacher.get('/sections/1/students/4')).body).toContain('4 of 4 tries used');
    // Nobody else got one.
    const other = await sessionFor(built, '003202');
    expect((await other.get('/')).body).toContain('0 of 3 tries used');
  });

  it('says so when the sheet is closed for the student, and gives no try where there are as many as wanted', async () => {
    built.store.raw.exec(
      `UPDATE assignments SET due_at = '2026-09-01T00:00:00.000Z', late_days = 0 WHERE section_id = 1`,
    );
    const closed = await teacher.post(`${at('try-3')}/comments`, { comment: 'Again.', gives: 'further-try' });
    expect(closed.headers.location).toContain('said=try-given-closed');
    await givenAttempt(built.store, {
      ...{ id: 'free', seed: 'free', signInName: '003201', sectionId: 1, itemId: 2 },
    });
    expect((await teacher.get(at('free'))).body).not.toContain('give one more try');
    expect(
      (await teacher.post(`${at('free')}/comments`, { comment: 'x', gives: 'further-try' })).statusCode,
    ).toBe(400);
  });

  it('keeps looks, comments and tries for good', () => {
    for (const table of ['attempt_looks', 'attempt_comments', 'further_tries']) {
      expect(() => built.store.raw.exec(`DELETE FROM ${table}`)).toThrow(/only ever added to/);
      expect(() => built.store.raw.exec(`UPDATE ${table} SET at = 'x'`)).toThrow(/only ever added to/);
    }
  });
});
