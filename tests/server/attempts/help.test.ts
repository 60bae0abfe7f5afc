import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { carefulHands } from '../../../server/demonstrations/index.ts';
import {
  type ActionOf,
  type BriefOf,
  brief,
  generateBench,
  KIND_NAMES,
  type KindName,
  type SheetOf,
} from '../../../server/engine/index.ts';
import { canBegin, deskOf, type Typed } from '../../../server/kinds/index.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { carryOut } from '../../support/carry-out.ts';
import { typedFrom } from '../../support/desk-typing.ts';

let built: TestApp;
let student: Agent;
beforeEach(async () => {
  built = await testApp();
  student = await signIn(built.app, '003201');
});
afterEach(() => built.close());

interface Answer {
  readonly head: string;
  readonly lines: readonly { readonly place: string; readonly seen: string; readonly why: string }[];
}

/** Begins an attempt: its address, and what careful hands would do and write there. */
async function begun<K extends KindName>(kind: K, way: 'practice' | 'graded-run') {
  built.store.raw
    .prepare(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition)
       VALUES (90, 1, 90, 'Another job', 'practice-engine', ?, ?)`,
    )
    .run(way, JSON.stringify({ kind }));
  const address = String((await student.post('/items/90/attempts')).headers.location);
  const row = built.store.raw
    .prepare('SELECT definition, seed FROM attempts WHERE id = ?')
    .get(address.split('/')[2]) as { definition: string; seed: string };
  const bench = generateBench<K>(JSON.parse(row.definition), row.seed);
  const plate = brief(bench as never) as BriefOf<K>;
  const { actions, result } = carryOut<K, { readonly sheet: SheetOf<K> }>(bench, (first) =>
    carefulHands(kind)(plate, first),
  );
  return { address, actions, typed: typedFrom(deskOf<K>(kind), plate, result.sheet) };
}

async function send<K extends KindName>(address: string, actions: readonly ActionOf<K>[], start = 0) {
  for (let from = start; from < actions.length; from += 20) {
    const batch = { from, actions: actions.slice(from, from + 20) };
    expect((await student.postJson(`${address}/actions`, batch)).statusCode).toBe(200);
  }
}

async function ask(address: string, what: 'check' | 'hint', typed: Typed): Promise<Answer> {
  const answer = await student.postJson(`${address}/${what}`, { typed });
  expect(answer.statusCode, answer.body).toBe(200);
  return answer.json<Answer>();
}

describe.each(KIND_NAMES.filter(canBegin))('help in practice: %s', (kind) => {
  it('accuses careful work of nothing, half-way or whole, and says which number is off', async () => {
    const { address, actions, typed } = await begun(kind, 'practice');
    const half = actions.slice(0, Math.floor(actions.length / 2));
    await send(address, half);
    expect(await ask(address, 'check', {})).toMatchObject({ lines: [] });
    const next = await ask(address, 'hint', {});
    expect(next.lines).toHaveLength(1);
    expect(next.lines[0]?.seen).not.toMatch(/undefined|NaN|^$/);

    await send(address, actions, half.length);
    const boxes = Object.entries(typed);
    const some = Object.fromEntries(boxes.slice(0, Math.ceil(boxes.length / 2)));
    expect(await ask(address, 'check', some)).toMatchObject({ lines: [] });
    const whole = await ask(address, 'check', typed);
    expect(whole.lines).toEqual([]);
    expect(whole.head).toContain('Right so far');
    expect((await ask(address, 'hint', typed)).lines).toEqual([]);

    const off = Object.fromEntries(
      boxes.map(([name, text]) => [
        name,
        /^-?\d+\.\d+$/.test(text) ? String(Number((Number(text) * 0.6).toFixed(4))) : text,
      ]),
    );
    // Fault finding writes no number that can be off.
    if (kind === 'fault-finding') return;
    const found = await ask(address, 'check', off);
    expect(found.head).toBe('Look at this again');
    expect(found.lines.length).toBeGreaterThan(0);
    // What was sent along is kept.
    expect((await student.get(address)).body).toContain(`value="${Object.values(off)[0]}"`);
  });
});

describe('help', () => {
  it('comes as a page where there is no script, with what was typed', async () => {
    const { address, actions, typed } = await begun('run-out', 'practice');
    expect((await student.get(address)).body).toContain('Check what I have');
    await send(address, actions);
    const page = await student.post(`${address}/check`, typed);
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain('Right so far');
  });

  it('is not given in a graded run, nor is anything told of it', async () => {
    const { address, actions, typed } = await begun('run-out', 'graded-run');
    expect((await student.get(address)).body).not.toMatch(/Check what I have|\/check|\/hint/);
    await send(address, actions);
    for (const what of ['check', 'hint']) {
      const right = await student.postJson(`${address}/${what}`, { typed });
      const blank = await student.postJson(`${address}/${what}`, { typed: {} });
      expect(right.statusCode).toBe(409);
      expect(right.body).toBe(blank.body);
      expect((await student.post(`${address}/${what}`, typed)).statusCode).toBe(409);
    }
  });

  it('is for the student whose attempt it is, until it is handed in', async () => {
    const { address } = await begun('run-out', 'practice');
    const other = await signIn(built.app, '003202');
    expect((await other.postJson(`${address}/check`, { typed: {} })).statusCode).toBe(404);
    expect((await other.postJson(`${address}/hint`, { typed: {} })).statusCode).toBe(404);
    expect((await student.post(`${address}/hand-in`)).statusCode).toBe(303);
    expect((await student.postJson(`${address}/check`, { typed: {} })).statusCode).toBe(409);
  });
});
