import { afterEach, beforeEach, expect, it } from 'vitest';
import type { KindName } from '../../../server/engine/index.ts';
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

it.each(Object.keys(DESKS) as KindName[])('begins %s, shows its bench and its sheet', async (kind) => {
  built.store.raw
    .prepare(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition)
         VALUES (90, 1, 90, 'Another job', 'practice-engine', 'practice', ?)`,
    )
    .run(JSON.stringify({ kind }));
  const begun = await student.post('/items/90/attempts');
  expect(begun.statusCode).toBe(303);
  const page = await student.get(String(begun.headers.location));
  expect(page.statusCode).toBe(200);
  const shown = page.body.slice(page.body.indexOf('<main'));
  expect(shown).not.toMatch(/undefined|NaN|\[object/);
  expect(page.body).toContain('Look it over');
  // Handed in blank it is looked over first, and then graded all the same.
  const over = await student.post(`${begun.headers.location}/look-over`);
  expect(over.headers.location).toMatch(/hand-in$/);
  const listed = await student.get(String(over.headers.location));
  expect(listed.body).toContain('Still blank');
});
