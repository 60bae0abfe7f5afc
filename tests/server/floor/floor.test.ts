import { request } from 'node:http';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Agent, signIn, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { type Habits, writeWhatIsSeen } from '../../support/observer.ts';

const OPEN = 'ffffffff-0000-4000-8000-000000000001';

describe('the floor', () => {
  let built: TestApp;
  let marchbanks: Agent;
  let student: Agent;
  let url: string;
  const streams: { destroy(): void }[] = [];
  beforeEach(async () => {
    built = await testApp();
    marchbanks = await signIn(built.app, 'marchbanks');
    student = await signIn(built.app, '003201');
    url = await built.app.listen({ host: '127.0.0.1', port: 0 });
  });
  afterEach(async () => {
    for (const stream of streams.splice(0)) stream.destroy();
    await built.close();
  });

  const row = async (id = 4) => {
    const { body } = await marchbanks.get('/sections/1/floor');
    return (
      new RegExp(`<li id="floor-${id}".*?</li>`, 's')
        .exec(body)?.[0]
        .replace(/<[^>]*>/g, ' ')
        .replace(/\s+/g, ' ') ?? ''
    );
  };

  /** Opens the stream as somebody; gives its status and what has come. */
  function listen(
    path: string,
    agent: Agent,
  ): Promise<{ status: number; text: () => string; ended: Promise<void> }> {
    return new Promise((resolve, reject) => {
      const asked = request(
        `${url}${path}`,
        { headers: { cookie: agent.cookie(), accept: 'text/event-stream' } },
        (answer) => {
          let text = '';
          answer.on('data', (part) => {
            text += part;
          });
          resolve({
            status: answer.statusCode ?? 0,
            text: () => text,
            ended: new Promise((end) => answer.on('close', () => end())),
          });
        },
      );
      asked.on('error', reject);
      asked.end();
      streams.push(asked);
    });
  }
  const until = async (met: () => boolean, most = 5000) => {
    const from = performance.now();
    while (!met()) {
      if (performance.now() - from > most) throw new Error('it did not come');
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  };

  it('shows who is on what, from the log alone', async () => {
    expect(await row()).toContain('not begun');
    await student.post('/items/2/attempts', { sectionId: '1' });
    const { id } = await built.store.db.selectFrom('attempts').select('id').executeTakeFirstOrThrow();
    expect(await row()).toMatch(/working .*Practice engine A: practice, try 1 has just begun/);
    await student.postJson(`/attempts/${id}/actions`, {
      from: 0,
      actions: [{ type: 'bar', degrees: 30, speed: 20 }],
    });
    expect(await row()).toMatch(/last: barred 30°/i);
    built.clock.moveHours(0.1);
    expect(await row()).toMatch(/idle 6 min/);
  });

  it('shows points when a sheet is handed in, and who has used every try below 80', async () => {
    const poor: Habits = {
      write: (seen) => {
        const written = writeWhatIsSeen(seen);
        return {
          ...written,
          turns: seen.turns - 1,
          lift: (written.lift ?? 0) - seen.rangePerTurn,
          verdict: 'above',
        };
      },
    };
    for (const tryNumber of [1, 2, 3])
      await givenAttempt(built.store, {
        ...{
          id: `ffffffff-0000-4000-8000-00000000002${tryNumber}`,
          signInName: '003201',
          sectionId: 1,
          itemId: 3,
        },
        ...{ seed: `poor-${tryNumber}`, tryNumber, habits: poor },
      });
    expect(await row()).toMatch(/out of tries .*try 3 of 3/);
    await givenAttempt(built.store, {
      id: OPEN,
      signInName: '003202',
      sectionId: 1,
      itemId: 3,
      seed: 'good',
    });
    expect(await row(5)).toMatch(/handed in .*100 of 100/);
  });

  it('takes a call, shows it first with its minutes, and lets it be answered', async () => {
    await givenAttempt(built.store, {
      id: OPEN,
      signInName: '003201',
      sectionId: 1,
      itemId: 2,
      seed: 'calls',
      open: true,
    });
    await student.post(`/attempts/${OPEN}/call`);
    await student.post(`/attempts/${OPEN}/call`);
    built.clock.moveHours(0.05);
    expect(await row()).toMatch(/waiting 3 min .*I am coming/);
    const { body } = await marchbanks.get('/sections/1/floor');
    expect(body.indexOf('floor-4"')).toBeLessThan(body.indexOf('floor-5"'));
    await marchbanks.post('/sections/1/floor/4/answer');
    expect(await row()).not.toContain('waiting');
    expect(await built.store.db.selectFrom('calls').selectAll().execute()).toHaveLength(1);
  });

  it('tells within a second that something was written, and nothing while nothing is', async () => {
    const stream = await listen('/sections/1/floor/events', marchbanks);
    expect(stream.status).toBe(200);
    await until(() => stream.text().includes('event: changed'));
    await new Promise((resolve) => setTimeout(resolve, 900));
    const before = stream.text();
    await new Promise((resolve) => setTimeout(resolve, 900));
    expect(stream.text()).toBe(before);
    await student.post('/items/2/attempts', { sectionId: '1' });
    const from = performance.now();
    await until(() => stream.text().length > before.length);
    expect(performance.now() - from).toBeLessThan(1000);
    expect(stream.text()).not.toContain('seed');
  });

  it('is closed to everybody else', async () => {
    for (const [agent, status] of [
      [visitor(built.app), 303],
      [student, 403],
      [await signIn(built.app, 'duenas'), 404],
      [await signIn(built.app, 'vossberg'), 403],
    ] as const)
      expect((await listen('/sections/1/floor/events', agent)).status).toBe(status);
  });

  it('may be watched in six windows, not in more', async () => {
    for (let n = 0; n < 6; n += 1)
      expect((await listen('/sections/1/floor/events', marchbanks)).status).toBe(200);
    expect((await listen('/sections/1/floor/events', marchbanks)).status).toBe(429);
    expect((await marchbanks.get('/sections/1/floor')).statusCode).toBe(200);
  });

  it('does not keep the server from stopping', async () => {
    const stream = await listen('/sections/1/floor/events', marchbanks);
    const from = performance.now();
    await built.app.close();
    await stream.ended;
    expect(performance.now() - from).toBeLessThan(2000);
  });

  it('holds nothing of a graded bench but what its student did', async () => {
    await givenAttempt(built.store, {
      id: OPEN,
      signInName: '003201',
      sectionId: 1,
      itemId: 3,
      seed: 'a seed to be hidden',
      open: true,
    });
    const { body } = await marchbanks.get('/sections/1/floor');
    for (const hidden of ['a seed to be hidden', 'worn', 'trueLift', '"seed"', 'hung'])
      expect(body).not.toContain(hidden);
  });
});
