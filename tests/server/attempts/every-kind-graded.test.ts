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
import { boxesOf, canBegin, deskOf, type Typed } from '../../../server/kinds/index.ts';
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

/** Begins an attempt as a student would, and works it with careful hands: where it is, and the sheet that came of it. */
async function worked<K extends KindName>(kind: K, write: (typed: Typed) => Typed) {
  built.store.raw
    .prepare(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition)
       VALUES (90, 1, 90, 'Another job', 'practice-engine', 'practice', ?)`,
    )
    .run(JSON.stringify({ kind }));
  const begun = await student.post('/items/90/attempts');
  expect(begun.statusCode).toBe(303);
  const address = String(begun.headers.location);
  const id = address.split('/')[2] ?? '';
  const row = built.store.raw.prepare('SELECT definition, seed FROM attempts WHERE id = ?').get(id) as {
    definition: string;
    seed: string;
  };
  const bench = generateBench<K>(JSON.parse(row.definition), row.seed);
  const plate = brief(bench as never) as BriefOf<K>;
  const { actions, result } = carryOut<K, { readonly sheet: SheetOf<K> }>(bench, (first) =>
    carefulHands(kind)(plate, first),
  );
  await send(address, actions);
  const typed = write(typedFrom(deskOf<K>(kind), plate, result.sheet));
  const over = await student.post(`${address}/look-over`, typed);
  expect(over.headers.location).toBe(`${address}/hand-in`);
  const handed = await student.post(`${address}/hand-in`);
  expect(handed.headers.location).toBe(`${address}/result`);
  return { id, page: (await student.get(`${address}/result`)).body };
}

async function send<K extends KindName>(address: string, actions: readonly ActionOf<K>[]): Promise<void> {
  for (let from = 0; from < actions.length; from += 20) {
    const answer = await student.postJson(`${address}/actions`, {
      from,
      actions: actions.slice(from, from + 20),
    });
    expect(answer.statusCode, answer.body).toBe(200);
  }
}

function expectWhole(page: string): void {
  const main = page.slice(page.indexOf('<main'), page.indexOf('</main>'));
  expect(main.match(/ style="|undefined|NaN|\[object|Infinity/g)).toBeNull();
  const ids = [...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
  const hrefs = [...main.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
  expect(hrefs.filter((id) => !ids.includes(id ?? ''))).toEqual([]);
}

describe.each(KIND_NAMES.filter(canBegin))('%s, handed in', (kind) => {
  it('gives careful work full points on a page that shows every part of it', async () => {
    const { page } = await worked(kind, (typed) => typed);
    expect(page).toMatch(/<b>100<\/b> of 100/);
    expect(page).toContain('No stop: nothing that fails the run for the record.');
    expectWhole(page);
  });

  it('says what is wrong with a sheet whose numbers are off, and takes a disagreement with it', async () => {
    const { id, page } = await worked(kind, (typed) =>
      Object.fromEntries(
        Object.entries(typed).map(([name, text]) => [
          name,
          /^-?\d+\.\d+$/.test(text) ? String(Number((Number(text) * 0.6).toFixed(4))) : text,
        ]),
      ),
    );
    expectWhole(page);
    const [, ref] = /name="about" value="([^"]+)"/.exec(page) ?? [];
    // Fault finding writes no number that can be off.
    if (ref === undefined) return expect(kind).toBe('fault-finding');
    const sent = await student.post(`/attempts/${id}/disagreements`, {
      about: ref,
      words: 'I counted again, and it is so.',
    });
    expect(sent.statusCode).toBe(303);
    const again = await student.get(`/attempts/${id}/result`);
    expect(again.body).toContain('I counted again, and it is so.');
  });

  it('says what is missing from a blank sheet', async () => {
    const { page } = await worked(kind, (typed) =>
      Object.fromEntries(Object.keys(typed).map((name) => [name, ''])),
    );
    expectWhole(page);
    expect(page).not.toMatch(/<b>100<\/b> of 100/);
  });
});

it('has a box on the page of every kind for everything that is typed', () => {
  for (const kind of KIND_NAMES.filter(canBegin)) {
    const plate = brief(generateBench({ kind }, 'boxes') as never) as BriefOf<typeof kind>;
    const names = boxesOf(deskOf(kind).form(plate as never)).map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
  }
});
