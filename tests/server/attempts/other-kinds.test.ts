import { afterEach, beforeEach, expect, it } from 'vitest';
import { KIND_NAMES } from '../../../server/engine/index.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';

let built: TestApp;
let student: Agent;
beforeEach(async () => {
  built = await testApp();
  student = await signIn(built.app, '003201');
});
afterEach(() => built.close());

it.each(KIND_NAMES.filter((kind) => kind !== 'cam-lift'))(
  'says plainly that %s has no screen yet, and begins nothing',
  async (kind) => {
    built.store.raw
      .prepare(
        `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition)
         VALUES (90, 1, 90, 'Another job', 'practice-engine', 'practice', ?)`,
      )
      .run(JSON.stringify({ kind }));
    const response = await student.post('/items/90/attempts');
    expect(response.statusCode).toBe(409);
    expect(response.body).toMatch(/cannot be worked on here yet/);
    expect(built.store.raw.prepare('SELECT count(*) AS n FROM attempts').get()).toEqual({ n: 0 });
  },
);
