import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { type GivenAttempt, givenAttempt } from '../../support/given-attempt.ts';
import { sessionFor } from '../../support/session.ts';

describe('the competencies page', () => {
  let built: TestApp;
  let coordinator: Agent;
  let good: GivenAttempt;
  let bad: GivenAttempt;
  beforeAll(async () => {
    built = await testApp();
    coordinator = await sessionFor(built, 'vossberg');
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

  const page = async () => {
    const { body } = await coordinator.get('/competencies');
    const [meeting = '', trying = ''] = body
      .slice(body.indexOf('<h3>Meets the simulated part'))
      .split('<h3>Tried, not yet met');
    return { body, meeting, trying };
  };
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

  it('shows who meets the simulated part on which attempts, of all sections, and what the others lack', async () => {
    expect([good.grade.total >= 80, good.grade.stops.length]).toEqual([true, 0]);
    expect(bad.grade.stops.length).toBeGreaterThan(0);
    const { meeting, trying } = await page();
    expect(meeting).toContain('Okereke, Tamsin');
    expect(meeting).toContain('/competencies/1/attempts/good');
    expect(meeting).toContain('/competencies/1/attempts/metric');
    expect(trying).toContain('Li, Bo');
    expect(trying).toContain('1 more graded run at 80 % or more, without a stop');
    expect(`${meeting}${trying}`).not.toContain('attempts/practice');
    expect(`${meeting}${trying}`).not.toContain('attempts/open');
  });

  it('says that the evidence is simulated, that it completes nothing, and the rule in words', async () => {
    const { body } = await page();
    expect(body).toContain('Simulated evidence only so far.');
    expect(body).toContain('Simulated work alone never completes a competency');
    expect(body).toContain(
      'One graded run on a practice engine at 80 % of the points or more and without a stop.',
    );
    expect(body).not.toMatch(/>\s*(Competent|Completed|Holds it)/);
  });

  it('opens the evidence, read-only', async () => {
    const { statusCode, body } = await coordinator.get('/competencies/1/attempts/good');
    expect(statusCode).toBe(200);
    expect(body).toContain('Tamsin Okereke');
    expect(body).toContain('It counts towards the simulated part.');
    expect(body).not.toContain('Change the points');
  });

  it.each(['practice', 'open', 'no-such'])(
    'does not open the attempt “%s”, which is no evidence',
    async (id) => {
      expect((await coordinator.get(`/competencies/1/attempts/${id}`)).statusCode).toBe(404);
    },
  );

  it('does not open an attempt on an item that is not linked', async () => {
    await built.store.db.deleteFrom('competency_items').where('item_id', '=', 5).execute();
    expect((await coordinator.get('/competencies/1/attempts/metric')).statusCode).toBe(404);
    expect((await page()).body).not.toContain('attempts/metric');
    await built.store.db.insertInto('competency_items').values({ competency_id: 1, item_id: 5 }).execute();
  });

  it('goes by changed points: below the share, and on it again', async () => {
    await change('good', 9.9);
    expect((await page()).trying).toContain('79.9 points, 80 are needed');
    await change('good', 10);
    const { meeting } = await page();
    expect(meeting).toContain('Okereke, Tamsin');
    expect(meeting).toContain('changed by an instructor');
  });

  it('lets no change of points lift a stop', async () => {
    await change('bad', 30);
    const { trying } = await page();
    expect(trying).toContain('Li, Bo');
    expect(trying).toMatch(/does not count<\/b>: (one stop|\d stops)/);
  });

  it('goes by the newest rule in force, and not by one to come', async () => {
    const add = (version: number, atLeastPercent: number, in_force_from: string) =>
      built.store.db
        .insertInto('evidence_rules')
        .values({
          competency_id: 1,
          version,
          in_force_from,
          rule: JSON.stringify({
            gradedRuns: 1,
            atLeastPercent,
            noStops: true,
            shopSignOffs: 0,
            evidence: 'simulated',
          }),
        })
        .execute();
    await add(2, 90, '2026-12-01T00:00:00.000Z');
    expect((await page()).meeting).toContain('Okereke, Tamsin');
    await add(3, 85, built.clock().toISOString());
    const { body, trying } = await page();
    expect(body).toContain('Rule, version 3:');
    expect(trying).toContain('80 points, 85 are needed');
  });
});
