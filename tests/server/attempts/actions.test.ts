import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { appendActions } from '../../../server/attempts/append-actions.ts';
import { FoldedAttempts } from '../../../server/attempts/folded.ts';
import { Conflict } from '../../../server/web/errors.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { sendActions, startAttempt, workThrough } from '../../support/attempt.ts';
import { type TestApp, testApp } from '../../support/build.ts';

const GRADED = 3;

describe('the log of an attempt', () => {
  let built: TestApp;
  let student: Agent;
  let id: string;
  beforeEach(async () => {
    built = await testApp();
    student = await signIn(built.app, '003201');
    id = await startAttempt(student, GRADED);
  });
  afterEach(() => built.close());

  const post = (body: unknown, who = student) => who.postJson(`/attempts/${id}/actions`, body);
  const logged = () =>
    built.store.raw
      .prepare('SELECT seq, action FROM attempt_actions WHERE attempt_id = ? ORDER BY seq')
      .all(id) as { seq: number; action: string }[];
  const position = async () => {
    const page = await student.get(`/attempts/${id}`);
    return Number(/id="move-(\d)"/.exec(page.body)?.[1]);
  };

  it('answers each action with what is perceived of it, in words too', async () => {
    const response = await post({
      from: 0,
      actions: [{ type: 'move', position: await position() }, { type: 'seat' }],
    });
    const answer = response.json();
    expect(answer.next).toBe(2);
    expect(answer.seen).toHaveLength(2);
    expect(answer.seen[0].words[0]).toMatch(/^You are at pump position/);
    expect(answer.seen[1].view.tappet).toBe('in');
  });

  it('keeps a batch that is sent twice once, and answers it the same', async () => {
    const actions = [
      { type: 'move', position: await position() },
      { type: 'bar', degrees: 7.5, speed: 20 },
    ];
    const first = await post({ from: 0, actions });
    const again = await post({ from: 0, actions });
    expect(again.statusCode).toBe(200);
    expect(again.json()).toEqual(first.json());
    expect(logged()).toHaveLength(2);
  });

  it('keeps what is new of a batch whose beginning it already holds', async () => {
    const [first, second] = [
      { type: 'bar', degrees: 5, speed: 20 },
      { type: 'bar', degrees: 6, speed: 20 },
    ];
    await post({ from: 0, actions: [first] });
    const response = await post({ from: 0, actions: [first, second] });
    expect(response.json().next).toBe(2);
    expect(logged().map(({ action }) => JSON.parse(action).degrees)).toEqual([5, 6]);
    // And the bench goes on from the whole of it.
    const on = await post({ from: 2, actions: [{ type: 'bar', degrees: 1 }] });
    expect(on.json().seen[0].samples[0]).toEqual(response.json().seen[1].samples.at(-1));
  });

  it('refuses a batch that says something else than the log, and changes nothing', async () => {
    await post({ from: 0, actions: [{ type: 'bar', degrees: 5 }] });
    const response = await post({ from: 0, actions: [{ type: 'bar', degrees: 9 }] });
    expect(response.statusCode).toBe(409);
    expect(response.json().error.message).toMatch(/another window/);
    expect(logged()).toHaveLength(1);
  });

  it('refuses a batch that leaves a gap', async () => {
    const response = await post({ from: 3, actions: [{ type: 'seat' }] });
    expect(response.statusCode).toBe(409);
    expect(logged()).toHaveLength(0);
  });

  it('keeps each of two batches sent at the same moment whole or refuses it', async () => {
    const [a, b] = await Promise.all([
      post({
        from: 0,
        actions: [
          { type: 'bar', degrees: 1 },
          { type: 'bar', degrees: 2 },
        ],
      }),
      post({ from: 0, actions: [{ type: 'bar', degrees: 3 }] }),
    ]);
    expect([a.statusCode, b.statusCode].sort()).toEqual([200, 409]);
    expect(logged().map(({ seq }) => seq)).toEqual(a.statusCode === 200 ? [0, 1] : [0]);
  });

  it.each([
    ['no list', { from: 0 }],
    ['an unknown action', { from: 0, actions: [{ type: 'explode' }] }],
    ['a word for a number', { from: 0, actions: [{ type: 'bar', degrees: 'far' }] }],
    ['more than a turn in one go', { from: 0, actions: [{ type: 'bar', degrees: 9999 }] }],
    ['something smuggled in', { from: 0, actions: [{ type: 'seat', seed: 'x' }] }],
    ['a place before the log', { from: -1, actions: [{ type: 'seat' }] }],
    ['too many at once', { from: 0, actions: Array.from({ length: 51 }, () => ({ type: 'seat' })) }],
  ])('refuses %s', async (_, body) => {
    expect((await post(body)).statusCode).toBe(400);
    expect(logged()).toHaveLength(0);
  });

  it('takes nothing after the sheet has been handed in', async () => {
    const other = await testApp();
    const worker = await signIn(other.app, '003201');
    const { attemptId, observed } = await workThrough(other, worker, GRADED);
    const late = await worker.postJson(`/attempts/${attemptId}/actions`, {
      from: observed.actions.length,
      actions: [{ type: 'seat' }],
    });
    expect(late.statusCode).toBe(409);
    const draft = await worker.postJson(`/attempts/${attemptId}/draft`, { typed: {} });
    expect(draft.statusCode).toBe(409);
    await other.close();
  });

  it('is refused in words when the sheet is handed in between the look and the write', async () => {
    const { attemptId, observed } = await workThrough(built, student, 5);
    const row = await built.store.db
      .selectFrom('attempts')
      .where('id', '=', attemptId)
      .selectAll()
      .executeTakeFirstOrThrow();
    const batch = { from: observed.actions.length, actions: [{ type: 'seat' } as const] };
    const late = appendActions(
      built.store,
      new FoldedAttempts(built.store),
      row,
      batch,
      '2026-09-14T08:00:00.000Z',
    );
    await expect(late).rejects.toThrow(/has been handed in/);
    await expect(late).rejects.toBeInstanceOf(Conflict);
  });

  it('goes on after the server has forgotten the bench', async () => {
    const bodies = await sendActions(student, id, [
      { type: 'bar', degrees: 30 },
      { type: 'bar', degrees: 40 },
    ]);
    const last = JSON.parse(bodies.at(-1) ?? '').seen.at(-1).now;
    // A second server on the same database holds nothing in memory.
    const fresh = await testApp({ store: built.store });
    const again = await signIn(fresh.app, '003201');
    const on = await again.postJson(`/attempts/${id}/actions`, {
      from: 2,
      actions: [{ type: 'bar', degrees: 1 }],
    });
    expect(on.json().seen[0].samples[0].deg).toBe(last.sample.deg);
    await fresh.app.close();
  });
});
