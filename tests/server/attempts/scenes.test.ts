import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type AnyDefinition, ENGINE_VERSION } from '../../../server/engine/index.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

let built: TestApp;
let student: Agent;
beforeEach(async () => {
  built = await testApp();
  student = await signIn(built.app, '003201');
});
afterEach(() => built.close());

/** An attempt at some work, begun. */
function begun(definition: AnyDefinition, way: 'practice' | 'graded-run'): string {
  const { raw } = built.store;
  const text = JSON.stringify(definition);
  raw
    .prepare(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition)
         VALUES (90, 1, 90, 'Another job', 'practice-engine', ?, ?)`,
    )
    .run(way, text);
  raw
    .prepare(
      `INSERT INTO attempts (id, section_id, item_id, student_id, try_number, way, definition, seed, engine_version, started_at)
         SELECT 'drawn', section_id, 90, person_id, 1, ?, ?, 'drawn', ?, '2026-09-14T08:00:00.000Z'
         FROM section_students JOIN people ON people.id = person_id WHERE sign_in_name = '003201'`,
    )
    .run(way, text, ENGINE_VERSION);
  return '/attempts/drawn';
}

/** What stands in the place of the drawing, with the tag it stands in. */
const placeOf = (body: string) => /<section class="bench-scene"[^>]*>.*?<\/section>/s.exec(body)?.[0] ?? '';

describe.each(['practice', 'graded-run'] as const)('the drawing of the work (%s)', (way) => {
  it('has the roller once it was looked at, also when the page is loaded again', async () => {
    const address = begun({ kind: 'cam-lift', rollerVerdict: true }, way);
    const first = (await student.get(address)).body;
    expect(placeOf(first)).toMatch(/ hidden>/);
    expect(placeOf(first)).not.toContain('<svg');
    const position = Number(/id="move-(\d)"/.exec(first)?.[1]);
    const answer = await student.postJson(`${address}/actions`, {
      from: 0,
      actions: [{ type: 'move', position }, { type: 'inspect' }],
    });
    expect(answer.body).toMatch(/"roller":\["roller-/);
    const again = placeOf((await student.get(address)).body);
    expect(again).toContain(`Roller, position ${position}`);
    expect(again).toContain('<desc');
    expect(again).not.toMatch(/ hidden>/);
  });

  it('has the torque wrench as it stands', async () => {
    const address = begun({ kind: 'torque-adapter', level: 1 }, way);
    expect(placeOf((await student.get(address)).body)).toContain('no wrench in the hand');
    await student.postJson(`${address}/actions`, {
      from: 0,
      actions: [
        { type: 'take-wrench', wrench: 1 },
        { type: 'set-adapter', angleDeg: 90 },
        { type: 'mark', joint: 1, bolt: 2 },
      ],
    });
    const place = placeOf((await student.get(address)).body);
    expect(place).toContain('wrench 1');
    expect(place).toContain('adapter at 90°');
    expect(place).toContain('marked');
  });
});

it('tells nothing of a roller before it was looked at', async () => {
  const address = begun({ kind: 'cam-lift', rollerVerdict: true }, 'graded-run');
  const first = (await student.get(address)).body;
  const position = Number(/id="move-(\d)"/.exec(first)?.[1]);
  const answer = await student.postJson(`${address}/actions`, {
    from: 0,
    actions: [{ type: 'move', position }, { type: 'seat' }, { type: 'inspect' }],
  });
  const page = (await student.get(address)).body;
  for (const body of [first, answer.body, page])
    expect(body).not.toMatch(/roller-(bright|blue|smooth|pits|scores|round|uneven)/);
});
