import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { writeWhatIsSeen } from '../../support/observer.ts';
import { sessionFor } from '../../support/session.ts';

describe('the pages of what goes wrong', () => {
  let built: TestApp;
  let teacher: Agent;
  beforeAll(async () => {
    built = await testApp();
    teacher = await sessionFor(built, 'marchbanks');
  });
  afterAll(() => built.close());

  it('say so while nothing is handed in', async () => {
    expect((await teacher.get('/sections/1/weak-spots')).body).toContain('Nothing handed in yet');
  });

  it('name a missed turn, lead to the attempts with it and to no others, and give each student’s readings', async () => {
    // One misses a turn on every lobe, one reads two graduations low, one is right; somebody of another section misses turns too.
    const given = (id: string, signInName: string, less: (range: number) => number, sectionId = 1) =>
      givenAttempt(built.store, {
        ...{ id, signInName, sectionId, itemId: 3, seed: `weak-${id}` },
        habits: {
          write: (seen) => {
            const boxes = writeWhatIsSeen(seen);
            const off = less(seen.rangePerTurn);
            const turns = off === seen.rangePerTurn ? 1 : 0;
            return {
              ...boxes,
              turns: seen.turns - turns,
              pointer: (boxes.pointer ?? 0) - (turns === 0 ? Math.round(off / 0.001) : 0),
              lift: (boxes.lift ?? 0) - off,
            };
          },
        },
      });
    await given('missed', '003201', (range) => range);
    await given('low', '003202', () => 0.002);
    await given('right', '003203', () => 0);
    await given('elsewhere', '003204', (range) => range, 2);
    const page = await teacher.get('/sections/1/weak-spots');
    expect(page.body).toContain('One turn of the pointer was not counted');
    expect(page.body).toContain('3 attempts</a> by 3 students');
    // The row of the second student: six readings, all two low, none gross.
    const row =
      /Ålund, Jørgen<\/a><\/th>\s*<td[^>]*>(\d+)<\/td>\s*<td[^>]*>([^<]+)<\/td>\s*<td[^>]*>([^<]+)<\/td>\s*<td[^>]*>(\d+)/.exec(
        page.body,
      );
    expect(Number(row?.[1])).toBeGreaterThan(2);
    expect(Math.abs(Number(row?.[2]?.replace('−', '-')) + 2)).toBeLessThan(0.6);
    expect(Number(row?.[3])).toBeLessThan(0.6);
    expect(row?.[4]).toBe('0');
    const behind = await teacher.get('/sections/1/weak-spots/behind?spot=mistake.missed-turn');
    expect(behind.body).toContain('/sections/1/attempts/missed');
    expect(behind.body).not.toContain('/sections/1/attempts/right');
    expect(behind.body).not.toContain('elsewhere');
    const stopped = await teacher.get('/sections/1/weak-spots/behind?spot=stop.whole-turn-error');
    expect(stopped.body).toContain('/sections/1/attempts/missed');
  });

  it('show one item or one way alone', async () => {
    expect((await teacher.get('/sections/1/weak-spots?way=practice')).body).toContain(
      '0 attempts</a> by 0 students',
    );
    expect((await teacher.get('/sections/1/weak-spots?item=3&way=graded-run')).body).toContain('3 attempts');
    expect((await teacher.get('/sections/1/weak-spots/behind?item=999')).body).toContain('No attempts');
    expect((await teacher.get('/sections/1/weak-spots/behind?spot=mistake.nonsense')).statusCode).toBe(404);
    expect((await teacher.get('/sections/1/weak-spots?item[]=3')).statusCode).toBe(200);
  });

  it('show who answered a question how', async () => {
    built.store.raw.exec(`INSERT INTO lesson_answers (person_id, lesson_slug, question_id, answer, correct, at) VALUES
      (4, 'run-out', 'tir', '0.1', 0, '2026-09-10T09:00:00.000Z'), (4, 'run-out', 'tir', '0.2', 1, '2026-09-10T09:01:00.000Z'),
      (5, 'run-out', 'tir', '0.2', 1, '2026-09-10T09:00:00.000Z')`);
    expect((await teacher.get('/sections/1/weak-spots')).body).toContain('1 of 2');
    const page = await teacher.get('/sections/1/weak-spots/behind?question=run-out.tir');
    expect(page.body).toContain('at answer 2');
    expect(page.body).toContain('at once');
    expect((await teacher.get('/sections/1/weak-spots/behind?question=run-out.none')).statusCode).toBe(404);
  });
});
