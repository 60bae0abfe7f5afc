import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listAssigned } from '../../../server/labsheets/index.ts';
import type { Actor } from '../../../server/web/actor.ts';
import { signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

const AT = '2026-09-14T08:00:00.000Z';

describe('the first page', () => {
  let built: TestApp;
  beforeEach(async () => {
    built = await testApp();
  });
  afterEach(() => built.close());

  it('sends each role to its place', async () => {
    expect((await (await signIn(built.app, 'marchbanks')).get('/')).headers.location).toBe('/sections');
    expect((await (await signIn(built.app, 'vossberg')).get('/')).headers.location).toBe('/competencies');
  });

  it("shows a student's lab sheets with lesson, start buttons and tries", async () => {
    const page = await (await signIn(built.app, '003201')).get('/');
    expect(page.body).toContain('href="/lessons/measuring-injection-cam-lift"');
    expect(page.body).toContain('action="/items/3/attempts"');
    expect(page.body).toContain('0 of 3 tries used');
    expect(page.body).toContain('0 tries so far');
  });

  it('says so where nothing is assigned', async () => {
    built.store.raw.exec('DELETE FROM assignments');
    expect((await (await signIn(built.app, '003201')).get('/')).body).toContain('Nothing assigned yet');
  });
});

describe("a student's list", () => {
  let built: TestApp;
  let student: Actor;
  beforeEach(async () => {
    built = await testApp();
    const { id } = await built.store.db
      .selectFrom('people')
      .select('id')
      .where('sign_in_name', '=', '003201')
      .executeTakeFirstOrThrow();
    student = {
      id,
      role: 'student',
      givenName: '',
      familyName: '',
      signInName: '',
      mustChangePassword: false,
      demo: true,
      substitute: false,
    };
  });
  afterEach(() => built.close());

  const graded = async () => {
    const sheets = await listAssigned(built.store.db, student, new Date().toISOString());
    return sheets.flatMap((sheet) => sheet.items).find((item) => item.id === 3);
  };
  const begin = (id: string, tryNumber: number, who = student.id) =>
    built.store.db
      .insertInto('attempts')
      .values({
        id,
        section_id: 1,
        item_id: 3,
        student_id: who,
        try_number: tryNumber,
        way: 'graded-run',
        definition: '{}',
        seed: 's',
        engine_version: '1',
        started_at: AT,
      })
      .execute();
  const nothing = { setUp: 0, procedure: 0, reading: 0, verdict: 0 };
  const NO_GRADE = JSON.stringify({ points: nothing, outOf: nothing, lobes: [] });
  const handIn = async (id: string, points: number) => {
    await built.store.db
      .insertInto('hand_ins')
      .values({ attempt_id: id, typed: '{}', sheet: '{}', action_count: 0, at: AT })
      .execute();
    await grade(id, points);
  };
  const grade = (id: string, points: number) =>
    built.store.db
      .insertInto('grades')
      .values({ attempt_id: id, engine_version: '1', points, stops: 1, grade: NO_GRADE, at: AT })
      .execute();

  it('follows an attempt from not started to handed in, and the tries to their end', async () => {
    expect(await graded()).toMatchObject({
      state: 'not-started',
      triesUsed: 0,
      mayStart: true,
      result: null,
    });
    await begin('a1', 1);
    expect(await graded()).toMatchObject({
      state: 'open',
      triesUsed: 1,
      mayStart: false,
      openAttemptId: 'a1',
    });
    await handIn('a1', 71.5);
    expect(await graded()).toMatchObject({
      state: 'handed-in',
      mayStart: true,
      result: { attemptId: 'a1', points: 71.5, stops: 1 },
    });
    await begin('a2', 2);
    expect(await graded()).toMatchObject({ state: 'open', openAttemptId: 'a2', result: { attemptId: 'a1' } });
    await handIn('a2', 60);
    await begin('a3', 3);
    await handIn('a3', 80);
    expect(await graded()).toMatchObject({
      triesUsed: 3,
      mayStart: false,
      result: { attemptId: 'a3', points: 80 },
    });
  });

  it('goes by the last grade, and by a change of grade before that', async () => {
    await begin('a1', 1);
    await handIn('a1', 50);
    await grade('a1', 55);
    expect((await graded())?.result?.points).toBe(55);
    const change = {
      attempt_id: 'a1',
      set_up: 30,
      procedure: 20,
      reading: 15,
      verdict: 0,
      reason: 'seen',
      changed_by: 2,
      at: AT,
    };
    await built.store.db.insertInto('grade_changes').values(change).execute();
    expect((await graded())?.result?.points).toBe(65);
  });

  it("holds nothing of another's attempts", async () => {
    await begin('b1', 1, student.id + 1);
    await handIn('b1', 90);
    expect(await graded()).toMatchObject({ state: 'not-started', triesUsed: 0 });
  });
});
