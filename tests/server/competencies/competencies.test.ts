import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { type GivenAttempt, givenAttempt } from '../../support/given-attempt.ts';
import { sessionFor } from '../../support/session.ts';
import { ONE_RUN, ruleInForce } from '../support/rule-in-force.ts';

describe('the competencies page', () => {
  let built: TestApp;
  let coordinator: Agent;
  let good: GivenAttempt;
  let bad: GivenAttempt;
  beforeAll(async () => {
    built = await testApp();
    coordinator = await sessionFor(built, 'vossberg');
    await ruleInForce(built.store, 2, ONE_RUN, '2026-09-01T00:00:00.000Z');
    good = await givenAttempt(built.store, {
      id: 'good',
      signInName: '003201',
      sectionId: 1,
      itemId: 3,
      seed: 'competent-1',
    });
    bad = await givenAttempt(built.store, {
      id: 'bad',
      signInName: '003204',
      sectionId: 2,
      itemId: 3,
      seed: 'competent-2',
      habits: { skip: () => true },
    });
    await givenAttempt(built.store, {
      id: 'metric',
      signInName: '003202',
      sectionId: 1,
      itemId: 5,
      seed: 'competent-3',
    });
    await givenAttempt(built.store, {
      id: 'practice',
      signInName: '003203',
      sectionId: 1,
      itemId: 2,
      seed: 'competent-4',
    });
    await givenAttempt(built.store, {
      id: 'open',
      signInName: '003205',
      sectionId: 2,
      itemId: 3,
      seed: 'competent-5',
      open: true,
    });
  });
  afterAll(() => built.close());

  const [TAMSIN, BO] = [4, 7];
  const group = async (state: string) => {
    const { body } = await coordinator.get('/competencies/1');
    return body.split('<section').find((part) => part.includes(`id="group-${state}"`)) ?? '';
  };
  const person = async (id: number, day = '') =>
    (await coordinator.get(`/competencies/1/people/${id}${day === '' ? '' : `?asOf=${day}`}`)).body;
  const change = (attempt: string, reading: number) =>
    built.store.db
      .insertInto('grade_changes')
      .values({
        attempt_id: attempt,
        set_up: 30,
        procedure: 20,
        reading,
        verdict: 20,
        reason: 'A test.',
        changed_by: 2,
        at: '2026-09-12T00:00:00.000Z',
      })
      .execute();

  it('shows who stands where, of all sections, and what each lacks', async () => {
    expect([good.grade.total >= 80, good.grade.stops.length]).toEqual([true, 0]);
    expect(bad.grade.stops.length).toBeGreaterThan(0);
    const practice = await group('practice');
    expect(practice).toContain('Okereke, Tamsin');
    expect(practice).toContain('a sign-off on a shop engine');
    expect(practice).not.toContain('Li, Bo');
    const begun = await group('begun');
    expect(begun).toContain('Li, Bo');
    expect(begun).toContain('1 more graded run at 80 % or more, without a stop');
    expect(await group('held')).toBe('');
  });

  it('shows every try that is evidence, and none that is not', async () => {
    expect(await person(TAMSIN)).toContain('/competencies/1/attempts/good');
    const all = await Promise.all([4, 5, 6, 7, 8].map((id) => person(id)));
    expect(all.join('')).toContain('/competencies/1/attempts/metric');
    expect(all.join('')).not.toContain('attempts/practice');
    expect(all.join('')).not.toContain('attempts/open');
  });

  it('counts people by where they stand, and says the rule in words', async () => {
    const { body } = await coordinator.get('/competencies');
    expect(body).toContain(
      'One graded run, at 80 % of the points or more, without a stop, without help; and one sign-off on a shop engine, passed. Dated, and held for good.',
    );
    expect(body).toMatch(/standing-practice[^<]*">practice part met<\/span> <b[^>]*>2</);
    expect(body).not.toMatch(/standing-held[^<]*">holds it<\/span> <b[^>]*>[1-9]/);
  });

  it('opens the evidence, read-only', async () => {
    const { statusCode, body } = await coordinator.get('/competencies/1/attempts/good');
    expect(statusCode).toBe(200);
    expect(body).toContain('Tamsin Okereke');
    expect(body).toContain('It counts towards the part on practice engines.');
    expect(body).not.toContain('Change the points');
  });

  it.each(['practice', 'open', 'no-such'])(
    'does not open the attempt “%s”, which is no evidence',
    async (id) => {
      expect((await coordinator.get(`/competencies/1/attempts/${id}`)).statusCode).toBe(404);
    },
  );

  it('no longer counts what a new rule leaves out, and says so, and still opens it', async () => {
    await ruleInForce(built.store, 3, ONE_RUN, '2026-09-13T00:00:00.000Z', [3]);
    expect((await coordinator.get('/competencies/1/attempts/metric')).statusCode).toBe(200);
    const now = await person(5);
    expect(now).toContain('nothing yet');
    expect(now).toContain('attempts/metric');
    expect(now).toContain('no: the rule in force does not count it');
    expect(await person(5, '2026-09-12')).toContain('practice part met');
    await ruleInForce(built.store, 4, ONE_RUN, '2026-09-13T00:00:01.000Z');
    expect(await person(5)).toContain('practice part met');
  });

  it('goes by changed points: below the share, and on it again', async () => {
    await change('good', 9.9);
    expect(await person(TAMSIN)).toContain('79.9 points, 80 are needed');
    expect(await group('begun')).toContain('Okereke, Tamsin');
    await change('good', 10);
    expect(await group('practice')).toContain('Okereke, Tamsin');
  });

  it('lets no change of points lift a stop', async () => {
    await change('bad', 30);
    expect(await group('begun')).toContain('Li, Bo');
    expect(await person(BO)).toMatch(/no: (one stop|\d stops)/);
  });

  it('says how it was on an earlier day, by what was known then', async () => {
    const before = await person(TAMSIN, '2026-09-09');
    expect(before).toContain('nothing yet');
    expect(before).not.toContain('/competencies/1/attempts/good');
    const then = await person(TAMSIN, '2026-09-11');
    expect(then).toContain(`${good.grade.total.toFixed(1)}</td>`);
    expect(then).not.toContain('name="word"');
  });

  it('goes by the newest rule in force, and not by one to come', async () => {
    const stricter = (atLeastPercent: number) => ({ ...ONE_RUN, runs: { ...ONE_RUN.runs, atLeastPercent } });
    await ruleInForce(built.store, 5, stricter(90), '2026-12-01T00:00:00.000Z');
    expect(await group('practice')).toContain('Okereke, Tamsin');
    await ruleInForce(built.store, 6, stricter(85), built.clock().toISOString());
    expect((await coordinator.get('/competencies/1')).body).toContain('Rule, version 6,');
    expect(await person(TAMSIN)).toContain('80 points, 85 are needed');
  });
});
