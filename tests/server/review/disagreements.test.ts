import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { writeWhatIsSeen } from '../../support/observer.ts';
import { sessionFor } from '../../support/session.ts';

describe('a disagreement', () => {
  let built: TestApp;
  let student: Agent;
  let teacher: Agent;
  let ref: string;
  beforeAll(async () => {
    built = await testApp();
    student = await sessionFor(built, '003201');
    teacher = await sessionFor(built, 'marchbanks');
    const mine = { signInName: '003201', sectionId: 1, itemId: 3 };
    await givenAttempt(built.store, {
      ...mine,
      id: 'off',
      seed: 'disagree',
      habits: {
        write: (seen) => {
          const written = writeWhatIsSeen(seen);
          return { ...written, lift: (written.lift ?? 0) - seen.rangePerTurn };
        },
      },
    });
    const page = await student.get('/attempts/off/result');
    ref = /name="about" value="(mistake[^"]+)"/.exec(page.body)?.[1] ?? '';
  });
  afterAll(() => built.close());
  const all = () => built.store.db.selectFrom('disagreements').selectAll().execute();

  it('needs words, keeps what was typed, and is about something that is there', async () => {
    expect(ref).not.toBe('');
    const empty = await student.post('/attempts/off/disagreements', { about: ref, words: ' ' });
    expect(empty.statusCode).toBe(422);
    expect(empty.body).toContain('Write what you see differently.');
    const long = 'x'.repeat(1001);
    const tooLong = await student.post('/attempts/off/disagreements', { about: ref, words: long });
    expect(tooLong.statusCode).toBe(422);
    expect(tooLong.body).toContain(long);
    for (const about of ['remark.999.result-off', 'remark.0.<b>', ref.replace('mistake', 'stop')])
      expect((await student.post('/attempts/off/disagreements', { about, words: 'No.' })).statusCode).toBe(
        400,
      );
    expect(await all()).toEqual([]);
  });

  it('goes from the student to the instructor, and the answer back', async () => {
    await student.post('/attempts/off/disagreements', { about: ref, words: 'I counted <b>three</b> turns.' });
    const list = await teacher.get('/sections/1/review');
    expect(list.body).toContain('not answered');
    expect(list.body).toContain('I counted &lt;b&gt;three&lt;/b&gt; turns.');
    const [one] = await all();
    const blank = await teacher.post('/sections/1/attempts/off/answers', {
      disagreement: String(one?.id),
      words: '',
    });
    expect(blank.statusCode).toBe(422);
    expect(blank.body).toContain('Write the answer. The student reads it.');
    await teacher.post('/sections/1/attempts/off/answers', {
      disagreement: String(one?.id),
      words: 'Look at the small hand with me.',
    });
    const seen = await student.get('/attempts/off/result');
    expect(seen.body).toContain('Look at the small hand with me.');
    expect((await teacher.get('/sections/1/review')).body).not.toContain('not answered');
  });

  it('may be answered together with a change of points, and only where it was written', async () => {
    await student.post('/attempts/off/disagreements', { about: ref, words: 'The limit is printed wrong.' });
    const id = String((await all()).at(-1)?.id);
    const points = { setUp: '30', procedure: '20', reading: '25', verdict: '20' };
    await teacher.post('/sections/1/attempts/off/changes', {
      ...points,
      reason: 'You are right about the limit.',
      seen: '0',
      answers: id,
    });
    const seen = await student.get('/attempts/off/result');
    expect(seen.body.match(/You are right about the limit\./g)?.length).toBe(2);
    const elsewhere = await teacher.post('/sections/1/attempts/off/answers', {
      disagreement: '99',
      words: 'No such thing.',
    });
    expect(elsewhere.statusCode).toBe(404);
  });

  it('is only ever added to', () => {
    for (const table of ['disagreements', 'disagreement_answers'])
      for (const sql of [`DELETE FROM ${table}`, `UPDATE ${table} SET words = 'other'`])
        expect(() => built.store.raw.exec(sql)).toThrow(/only ever added to/);
  });
});
