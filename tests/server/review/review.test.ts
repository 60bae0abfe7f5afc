import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { type GivenAttempt, givenAttempt } from '../../support/given-attempt.ts';
import { sessionFor } from '../../support/session.ts';

const STUDENT = 4;

describe('review', () => {
  let built: TestApp;
  let teacher: Agent;
  let given: GivenAttempt;
  beforeAll(async () => {
    built = await testApp();
    teacher = await sessionFor(built, 'marchbanks');
    const mine = { signInName: '003201', sectionId: 1 };
    given = await givenAttempt(built.store, { ...mine, id: 'handed-in', itemId: 3, seed: 'review-1' });
    await givenAttempt(built.store, {
      ...mine,
      id: 'stopped',
      itemId: 3,
      seed: 'review-2',
      tryNumber: 2,
      habits: { skip: () => true },
    });
    await givenAttempt(built.store, {
      ...mine,
      id: 'still-open',
      itemId: 2,
      seed: 'review-open-seed',
      open: true,
    });
    await givenAttempt(built.store, {
      id: 'of-b',
      signInName: '003204',
      sectionId: 2,
      itemId: 3,
      seed: 'review-3',
    });
  });
  afterAll(() => built.close());

  const fields = (parts: Record<string, string> = {}) => ({
    setUp: '20',
    procedure: '15.5',
    reading: '30',
    verdict: '0',
    reason: 'Seen at the bench.',
    seen: '0',
    ...parts,
  });
  const changes = () => built.store.db.selectFrom('grade_changes').selectAll().orderBy('id').execute();

  it('shows an instructor all attempts of a student of theirs, the one in progress without its truth', async () => {
    const page = await teacher.get(`/sections/1/students/${STUDENT}`);
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain('/sections/1/attempts/handed-in');
    expect(page.body).toContain('in progress');
    expect(page.body).not.toContain('/sections/1/attempts/still-open');
    expect(page.body).not.toMatch(/review-open-seed|worn|sticky|seed/);
    expect(page.body).toContain('Not started');
  });

  it('keeps what is another section’s out of sight', async () => {
    const other = await sessionFor(built, 'duenas');
    for (const path of [
      `/sections/1/students/${STUDENT}`,
      '/sections/1/attempts/handed-in',
      '/sections/2/attempts/handed-in',
      `/sections/2/students/${STUDENT}`,
    ]) {
      expect((await other.get(path)).statusCode, path).toBe(404);
    }
    expect((await other.post('/sections/2/attempts/handed-in/changes', fields())).statusCode).toBe(404);
    expect((await other.post('/sections/1/attempts/handed-in/changes', fields())).statusCode).toBe(404);
    expect((await teacher.get('/sections/1/attempts/of-b')).statusCode).toBe(404);
    expect((await other.get('/sections/2/attempts/of-b')).statusCode).toBe(200);
    expect(await changes()).toEqual([]);
  });

  it('does not open an attempt that is still in progress', async () => {
    expect((await teacher.get('/sections/1/attempts/still-open')).statusCode).toBe(404);
  });

  const refused: [string, Record<string, string>, string][] = [
    ['points above the criterion', { setUp: '30.1' }, 'Set-up: 30 is the most'],
    ['points below nothing', { procedure: '-1' }, 'Procedure: write points'],
    ['points finer than tenths', { reading: '12.55' }, 'Reading: write points in tenths'],
    ['words for points', { verdict: 'all' }, 'Verdict and follow-up: write points'],
    ['blank points', { verdict: '' }, 'Verdict and follow-up: write points'],
    ['no reason', { reason: '   ' }, 'Write the reason'],
    ['a reason too long', { reason: 'x'.repeat(1001) }, 'too long'],
  ];
  it.each(refused)('refuses %s beside the field and keeps what was typed', async (_what, parts, sentence) => {
    const page = await teacher.post(
      '/sections/1/attempts/handed-in/changes',
      fields({ reason: 'kept as typed', ...parts }),
    );
    expect(page.statusCode).toBe(422);
    expect(page.body).toContain(sentence);
    expect(page.body).toContain('value="15.5"'.replace('15.5', parts.procedure ?? '15.5'));
    expect(await changes()).toEqual([]);
  });

  it('refuses a change that changes nothing', async () => {
    const { setUp, procedure, reading, verdict } = given.grade.points;
    const same = {
      setUp: `${setUp}`,
      procedure: `${procedure}`,
      reading: `${reading}`,
      verdict: `${verdict}`,
    };
    const page = await teacher.post('/sections/1/attempts/handed-in/changes', fields(same));
    expect(page.statusCode).toBe(422);
    expect(page.body).toContain('Change at least one');
  });

  it('adds changes one to another, from nothing to the most, and leaves the grade as it was', async () => {
    const before = await built.store.db.selectFrom('grades').selectAll().execute();
    const first = await teacher.post(
      '/sections/1/attempts/handed-in/changes',
      fields({ setUp: '0', verdict: '20', reason: 'One <b>"bold"</b> reason' }),
    );
    expect(first.statusCode).toBe(303);
    const [one] = await changes();
    expect(one).toMatchObject({
      attempt_id: 'handed-in',
      set_up: 0,
      procedure: 15.5,
      reading: 30,
      verdict: 20,
      changed_by: 2,
      at: built.clock().toISOString(),
    });
    const second = await teacher.post(
      '/sections/1/attempts/handed-in/changes',
      fields({ setUp: '30', procedure: '20', verdict: '19,5', reason: 'Looked again.', seen: `${one?.id}` }),
    );
    expect(second.statusCode).toBe(303);
    expect((await changes()).map(({ set_up, verdict }) => [set_up, verdict])).toEqual([
      [0, 20],
      [30, 19.5],
    ]);
    expect(await built.store.db.selectFrom('grades').selectAll().execute()).toEqual(before);
  });

  it('tells instructor and student who changed what, and why; the newest counts', async () => {
    for (const [agent, path] of [
      [teacher, '/sections/1/attempts/handed-in'],
      [await sessionFor(built, '003201'), '/attempts/handed-in/result'],
    ] as const) {
      const { body } = await agent.get(path);
      expect(body).toContain('<b>99.5</b> of 100');
      expect(body).toContain('Odell Marchbanks');
      expect(body.indexOf('Looked again.')).toBeLessThan(body.indexOf('One &lt;b&gt;'));
      expect(body).not.toContain('<b>"bold"</b>');
    }
    expect((await teacher.get(`/sections/1/students/${STUDENT}`)).body).toContain('99.5');
  });

  it('refuses a change made in sight of older points', async () => {
    const page = await teacher.post('/sections/1/attempts/handed-in/changes', fields({ setUp: '1' }));
    expect(page.statusCode).toBe(422);
    expect(page.body).toContain('changed while this page was open');
    expect(await changes()).toHaveLength(2);
  });

  it('leaves a stop standing whatever the points', async () => {
    const all = { setUp: '30', procedure: '20', reading: '30', verdict: '20' };
    expect((await teacher.post('/sections/1/attempts/stopped/changes', fields(all))).statusCode).toBe(303);
    const { body } = await teacher.get('/sections/1/attempts/stopped');
    expect(body).toContain('<b>100</b> of 100');
    expect(body).toContain('this run does not count for the record');
    expect(body).toContain('Changed points do not remove it.');
  });

  it('refuses a form without its token', async () => {
    const page = await teacher.post('/sections/1/attempts/stopped/changes', { ...fields(), _csrf: 'wrong' });
    expect(page.statusCode).toBe(403);
  });
});
