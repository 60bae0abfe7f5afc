import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Agent, signIn } from '../../support/agent.ts';
import { startAttempt } from '../../support/attempt.ts';
import { type TestApp, testApp } from '../../support/build.ts';

const PRACTICE = 2;
const GRADED = 3;

describe('the section through the engine', () => {
  let built: TestApp;
  let student: Agent;
  beforeEach(async () => {
    built = await testApp();
    student = await signIn(built.app, '003201');
  });
  afterEach(() => built.close());

  const work = async (item: number) => {
    const id = await startAttempt(student, item);
    const first = await student.get(`/attempts/${id}`);
    const position = Number(/id="move-(\d)"/.exec(first.body)?.[1]);
    const answer = await student.postJson(`/attempts/${id}/actions`, {
      from: 0,
      actions: [{ type: 'move', position }, { type: 'seat' }, { type: 'bar', degrees: 90, speed: 60 }],
    });
    const page = await student.get(`/attempts/${id}`);
    return { first: first.body, answer: answer.body, page: page.body };
  };

  it('moves with the engine in practice, from the first position on', async () => {
    const { first, answer, page } = await work(PRACTICE);
    expect(first).toContain('id="section-place"');
    expect(first).not.toContain('cutaway-drawing');
    const { seen } = JSON.parse(answer) as {
      seen: { samples: object[]; section: { svg?: string; camDeg: number[]; tappetMm: number[] } }[];
    };
    expect(seen[0]?.section.svg).toContain('cutaway-drawing');
    const barred = seen[2];
    expect(barred?.section.camDeg).toHaveLength(barred?.samples.length ?? -1);
    const [from = 0, to = 0] = [barred?.section.camDeg[0], barred?.section.camDeg.at(-1)];
    // The cam turns at half speed.
    expect((to - from + 360) % 360).toBeCloseTo(45, 0);
    expect(page).toContain('cutaway-drawing');
    // Its figures would give the lift away.
    expect(page).not.toMatch(/lift \d+\.\d\d mm/);
  });

  it('is closed in a graded run', async () => {
    const { first, answer, page } = await work(GRADED);
    for (const body of [first, answer, page])
      expect(body).not.toMatch(/section-place|cutaway|"section"|tappetMm/);
  });
});
