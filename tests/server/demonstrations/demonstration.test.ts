import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { demonstrate } from '../../../server/demonstrations/demonstration.ts';
import { type AnyDefinition, KIND_NAMES } from '../../../server/engine/index.ts';
import { canBegin } from '../../../server/kinds/index.ts';
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

function givenItem(definition: AnyDefinition, way: 'practice' | 'graded-run' = 'practice'): void {
  built.store.raw
    .prepare(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition)
       VALUES (90, 1, 90, 'Another job', 'practice-engine', ?, ?)`,
    )
    .run(way, JSON.stringify(definition));
}

const ADDRESS = '/items/90/demonstration';
const mainOf = (page: string) => page.slice(page.indexOf('<main'), page.indexOf('</main>'));

describe.each(KIND_NAMES.filter(canBegin))('%s, seen done', (kind) => {
  it('is a whole page of careful work with full points', async () => {
    givenItem({ kind });
    const answer = await student.get(ADDRESS);
    expect(answer.statusCode).toBe(200);
    const main = mainOf(answer.body);
    expect(main).toContain('not the one you will measure');
    expect(main).toContain('<b>100</b> of 100 points');
    expect(main.match(/ style="|undefined|NaN|\[object|Infinity/g)).toBeNull();
    const ids = [...answer.body.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
    const hrefs = [...main.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
    expect(hrefs.filter((id) => !ids.includes(id ?? ''))).toEqual([]);
    expect(main.match(/class="log-line"/g)?.length).toBeGreaterThan(3);
    expect(main).toContain('<attempt-replay');
    // A wrench has no dial.
    expect(main.includes('data-replay-dial')).toBe(kind !== 'torque-adapter');
    expect(main.includes('Travel from zero')).toBe(kind !== 'torque-adapter');
  });
});

it('is the same before and after an attempt is begun, whatever the seed of the attempt', async () => {
  givenItem({ kind: 'run-out' });
  const before = mainOf((await student.get(ADDRESS)).body);
  expect((await student.post('/items/90/attempts')).statusCode).toBe(303);
  const rows = built.store.raw.prepare('SELECT seed FROM attempts WHERE item_id = 90').all() as {
    seed: string;
  }[];
  const after = mainOf((await student.get(ADDRESS)).body);
  const plain = (main: string) => main.replace(/name="_csrf" value="[^"]*"/g, '');
  expect(plain(after)).toBe(plain(before));
  expect(rows).toHaveLength(1);
  expect(rows[0]?.seed).not.toBe('demonstration');
  expect(after).not.toContain(rows[0]?.seed);
});

it('begins nothing: no try is used by looking', async () => {
  givenItem({ kind: 'run-out' }, 'graded-run');
  const page = await student.get(ADDRESS);
  expect(page.body).toContain('nothing of the graded run is shown');
  expect(built.store.raw.prepare('SELECT count(*) AS count FROM attempts WHERE item_id = 90').get()).toEqual({
    count: 0,
  });
});

it('is not there for an item that is not assigned to the student, nor for one that is no practice engine', async () => {
  givenItem({ kind: 'run-out' });
  expect((await student.get('/items/1/demonstration')).statusCode).toBe(404);
  built.store.raw.exec('DELETE FROM assignments');
  expect((await student.get(ADDRESS)).statusCode).toBe(404);
});

it('does not give away the fault that a practice sheet hides on purpose', async () => {
  givenItem({ kind: 'fault-finding' });
  const plain = mainOf((await student.get(ADDRESS)).body).replace(/name="_csrf" value="[^"]*"/g, '');
  built.store.raw
    .prepare('UPDATE lab_sheet_items SET definition = ? WHERE id = 90')
    .run(JSON.stringify({ kind: 'fault-finding', fault: 'worn-lobe' }));
  const named = mainOf((await student.get(ADDRESS)).body).replace(/name="_csrf" value="[^"]*"/g, '');
  expect(named).toBe(plain);
});

it('opens at the beginning, and every step begins at a frame no earlier than the one before', () => {
  const { replay, frames, log } = demonstrate({ kind: 'end-play' });
  expect(replay?.start).toBe(0);
  const begun = log.map(({ id }) => frames[id] ?? -1);
  expect(begun.every((frame, index) => frame >= (begun[index - 1] ?? 0))).toBe(true);
  expect(begun.at(-1)).toBeGreaterThan(0);
});
