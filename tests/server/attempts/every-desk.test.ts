import { afterEach, beforeEach, expect, it } from 'vitest';
import { ENGINE_VERSION, type KindName } from '../../../server/engine/index.ts';
import { DESKS } from '../../../server/kinds/index.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

let built: TestApp;
let student: Agent;
beforeEach(async () => {
  built = await testApp();
  student = await signIn(built.app, '003201');
});
afterEach(() => built.close());

/** An attempt as it would stand once its kind can be begun. */
function begun(kind: KindName): string {
  const { raw } = built.store;
  const definition = JSON.stringify({ kind });
  raw
    .prepare(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition)
         VALUES (90, 1, 90, 'Another job', 'practice-engine', 'practice', ?)`,
    )
    .run(definition);
  raw
    .prepare(
      `INSERT INTO attempts (id, section_id, item_id, student_id, try_number, way, definition, seed, engine_version, started_at)
         SELECT 'desk', section_id, 90, person_id, 1, 'practice', ?, 'desk', ?, '2026-09-14T08:00:00.000Z'
         FROM section_students JOIN people ON people.id = person_id WHERE sign_in_name = '003201'`,
    )
    .run(definition, ENGINE_VERSION);
  return '/attempts/desk';
}

it.each(Object.keys(DESKS) as KindName[])(
  'shows the bench and the sheet of %s, and lists a blank one',
  async (kind) => {
    const address = begun(kind);
    const page = await student.get(address);
    expect(page.statusCode).toBe(200);
    const shown = page.body.slice(page.body.indexOf('<main'));
    expect(shown).not.toMatch(/undefined|NaN|\[object/);
    expect(page.body).toContain('Look it over');
    const over = await student.post(`${address}/look-over`);
    expect(over.headers.location).toMatch(/hand-in$/);
    expect((await student.get(String(over.headers.location))).body).toContain('Still blank');
  },
);
