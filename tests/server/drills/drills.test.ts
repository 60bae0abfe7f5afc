import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { drillBench } from '../../../server/drills/answer.ts';
import { listAnswers } from '../../../server/drills/queries.ts';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { sessionFor } from '../../support/session.ts';

let built: TestApp;
let student: Agent;
beforeEach(async () => {
  built = await testApp();
  student = await sessionFor(built, '003201');
});
afterEach(() => built.close());

const count = (table: string) =>
  (built.store.raw.prepare(`SELECT count(*) AS n FROM ${table}`).get() as { n: number }).n;

async function begin(agent = student): Promise<string> {
  const { headers, statusCode } = await agent.post('/drills/rounds');
  expect(statusCode).toBe(303);
  return String(headers.location);
}

/** The dial a round has come to, with the truth that only the server has. */
function truthOf(round: string) {
  const row = built.store.raw
    .prepare('SELECT * FROM drill_dials WHERE round_id = ? ORDER BY number DESC LIMIT 1')
    .get(round.split('/').at(-1)) as {
    number: number;
    definition: string;
    seed: string;
    skill: string | null;
  };
  const [drill] = drillBench(row).drills;
  if (drill === undefined) throw new Error('no drill');
  return { ...row, ...drill };
}

/** What a careful reader writes. */
function rightBoxes(round: string): Record<string, string> {
  const { dial, movement } = truthOf(round);
  const perTurn = Math.round(dial.rangePerTurn / dial.graduation);
  const size = Math.round(Math.abs(movement) / dial.graduation);
  const turns = Math.floor(size / perTurn);
  const way = dial.counter === 'backwards' ? -1 : 1;
  const hand = (travel: number) =>
    ((((dial.counterAtZero + (way * travel) / dial.rangePerTurn) % 10) + 10) % 10).toFixed(1);
  return {
    turns: String(turns),
    pointer: String(size - turns * perTurn),
    counterBefore: dial.counter === 'none' ? '' : hand(0),
    counterAfter: dial.counter === 'none' ? '' : hand(movement),
    reading: String(Number((Math.sign(movement) * size * dial.graduation).toFixed(6))),
  };
}

const watch = (round: string, from = 0) =>
  student.postJson(`${round}/dials/${truthOf(round).number}/actions`, {
    from,
    actions: [{ type: 'watch', speed: 1 }],
  });
const answer = (round: string, boxes: Record<string, string>) =>
  student.post(`${round}/dials/${truthOf(round).number}/answer`, boxes);

describe('a round of drills', () => {
  it('is begun once, with its first dial, and goes on where it was left', async () => {
    const round = await begin();
    expect(await begin()).toBe(round);
    expect(count('drill_rounds')).toBe(1);
    await watch(round);
    const elsewhere = await sessionFor(built, '003201');
    expect((await elsewhere.get('/drills')).body).toContain('Go on with dial 1 of 10');
    const page = await elsewhere.get(round);
    expect(page.body).toContain('data-next="1"');
    expect(page.body).toContain('data-made="true"');
  });

  it('tells nothing of the movement but what a person would see, until the dial is answered', async () => {
    const round = await begin();
    const before = await student.get(round);
    const { movement, dial, seed } = truthOf(round);
    const seen = await watch(round);
    const after = await student.get(round);
    const written = [
      String(Number(Math.abs(movement).toFixed(6))),
      Math.abs(movement).toFixed(4),
      String(Math.abs(movement) / dial.graduation),
      'movement',
      'plungerAtZero',
      'counterAtZero',
      'truth',
    ];
    for (const { body } of [before, seen, after]) {
      for (const text of written) expect(body).not.toContain(text);
      expect(body).not.toContain(`"${seed}"`);
    }
    expect(before.body).toContain('Pointer at zero');
    const sample = seen.json().seen[0].samples[0];
    expect(Object.keys(sample).sort()).toEqual(['counter', 'plungerMm', 'pointer', 'workDeg']);
    await answer(round, rightBoxes(round));
    expect((await student.get(round)).body).toContain('The gauge showed');
  });

  it('keeps a batch that is sent twice once, and refuses one from somewhere else', async () => {
    const round = await begin();
    const first = await watch(round);
    expect((await watch(round)).json()).toEqual(first.json());
    expect(count('drill_actions')).toBe(1);
    const other = { from: 0, actions: [{ type: 'watch-back', speed: 1 }] };
    expect((await student.postJson(`${round}/dials/1/actions`, other)).statusCode).toBe(409);
    expect((await watch(round, 5)).statusCode).toBe(409);
  });

  it('counts an answer that is sent twice once, and lets the first stand against another', async () => {
    const round = await begin();
    await watch(round);
    const boxes = rightBoxes(round);
    const [one, two] = await Promise.all([answer(round, boxes), answer(round, boxes)]);
    expect([one.statusCode, two.statusCode]).toEqual([303, 303]);
    expect(count('drill_answers')).toBe(1);
    expect((await answer(round, { ...boxes, reading: '0.001' })).statusCode).toBe(409);
    expect((await student.get(round)).body).toContain('Dial 1 of 10: right');
    expect((await watch(round, 1)).statusCode).toBe(409);
  });

  it('says beside the box what cannot be read, and keeps what was typed', async () => {
    const round = await begin();
    await watch(round);
    const long = '9'.repeat(60);
    const page = await answer(round, { turns: 'two', pointer: '1000', reading: long });
    expect(page.statusCode).toBe(422);
    expect(page.body).toContain('value="two"');
    expect(page.body).toContain(`value="${long}"`);
    expect(page.body).toContain('id="f-turns-problem"');
    expect(page.body).toContain('id="f-pointer-problem"');
    expect(page.body).toContain('longer than a reading can be');
    expect(count('drill_answers')).toBe(0);
  });

  it('asks for the movement to be watched first', async () => {
    const round = await begin();
    const page = await answer(round, rightBoxes(round));
    expect(page.statusCode).toBe(422);
    expect(page.body).toContain('Watch the pointer move before you check');
  });

  it('names a missed turn, in turns and graduations', async () => {
    const round = await begin();
    await watch(round);
    const boxes = rightBoxes(round);
    const { dial, movement } = truthOf(round);
    const off = movement - Math.sign(movement) * dial.rangePerTurn;
    await answer(round, {
      ...boxes,
      turns: String(Number(boxes.turns) - 1 < 0 ? 1 : Number(boxes.turns) - 1),
      reading: String(
        Number(
          (Math.abs(movement) < dial.rangePerTurn
            ? movement + Math.sign(movement) * dial.rangePerTurn
            : off
          ).toFixed(6),
        ),
      ),
    });
    const page = await student.get(round);
    expect(page.body).toMatch(/off by \d+ graduations/);
    expect(page.body).toMatch(/It looks as if .*turn/);
  });

  it('goes through ten dials, takes each next one once, and tells how it stands', async () => {
    const round = await begin();
    for (let number = 1; number <= 10; number += 1) {
      expect(truthOf(round).number).toBe(number);
      await watch(round);
      expect((await answer(round, rightBoxes(round))).statusCode).toBe(303);
      await Promise.all([student.post(`${round}/dials`), student.post(`${round}/dials`)]);
    }
    expect(count('drill_dials')).toBe(10);
    const page = await student.get(round);
    expect(page.body).toContain('All of the last ten within one graduation.');
    expect(page.body).toContain('This round');
    expect((await student.get('/drills')).body).toContain('Begin a round of ten');
    const answers = await listAnswers(built.store.db, 4);
    expect(answers).toHaveLength(10);
    expect(answers.flatMap(({ observations }) => observations).every(({ right }) => right)).toBe(true);
    expect(await begin()).not.toBe(round);
  });

  it("is nobody else's, and is only ever added to", async () => {
    const round = await begin();
    const other = await sessionFor(built, '003202');
    expect((await other.get(round)).statusCode).toBe(404);
    expect((await other.post(`${round}/dials`)).statusCode).toBe(404);
    await watch(round);
    await answer(round, rightBoxes(round));
    for (const table of ['drill_rounds', 'drill_dials', 'drill_actions', 'drill_answers']) {
      expect(() => built.store.raw.exec(`DELETE FROM ${table}`)).toThrow('only ever added to');
    }
  });
});
