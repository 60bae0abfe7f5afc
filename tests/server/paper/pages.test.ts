import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type DialReadingDefinition, generateBench } from '../../../server/engine/index.ts';
import { keyOf } from '../../../server/paper/dials.ts';
import { MEASURING_KINDS } from '../../../server/paper/measuring.ts';
import { codeWords } from '../../../server/web/short-code.ts';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { sessionFor } from '../../support/session.ts';

describe('paper', () => {
  let built: TestApp;
  let teacher: Agent;
  beforeAll(async () => {
    built = await testApp();
    teacher = await sessionFor(built, 'marchbanks');
  });
  afterAll(() => built.close());
  const make = (fields: Record<string, string>) => teacher.post('/sections/1/paper', fields);
  const sheets = () =>
    built.store.db.selectFrom('paper_sheets').selectAll().orderBy('batch_id').orderBy('ordinal').execute();

  it('says what is wrong beside the field, keeps what was typed and prints nothing', async () => {
    const bad = await make({ kind: 'measuring', work: 'nonsense', title: 'My own heading', spare: '99' });
    expect(bad.statusCode).toBe(422);
    expect(bad.body).toContain('Write a whole number from 0 to 40.');
    expect(bad.body).toContain('My own heading');
    expect((await make({ kind: 'measuring', work: '' })).body).toContain('Choose the work.');
    expect((await make({ kind: 'sign-off', item: '12345' })).body).toContain(
      'Choose the work on a shop engine.',
    );
    expect((await make({ kind: 'poster' })).body).toContain('Choose what to print.');
    expect(await sheets()).toEqual([]);
  });

  it('prints dials of their own for each student and a spare, with a key that belongs to them', async () => {
    const made = await make({ kind: 'dials', dials: '4', level: '2', spare: '1' });
    const page = await teacher.get(made.headers.location as string);
    const kept = await sheets();
    expect(kept.map(({ student_id }) => student_id)).toEqual([5, 6, 4, null]);
    expect(new Set(kept.map(({ seed }) => seed)).size).toBe(4);
    for (const { code } of kept) expect(page.body).toContain(codeWords(code));
    // What is printed for the students holds no key.
    const definition: DialReadingDefinition = { kind: 'dial-reading', drills: 4, level: 2 };
    const key = await teacher.get(`${made.headers.location}/key`);
    for (const { seed } of kept)
      for (const { reading } of keyOf(generateBench(definition, seed ?? ''))) {
        expect(key.body).toContain(reading);
        expect(page.body).not.toContain(reading);
      }
  });

  it('finds a sheet again by its code, takes what stands on it, and grades it', async () => {
    const [sheet] = await sheets();
    const code = sheet?.code ?? '';
    const found = await teacher.get(
      `/sections/1/paper?code=${encodeURIComponent(codeWords(code).toLowerCase())}`,
    );
    expect(found.headers.location).toBe(`/sections/1/paper/sheets/${code}`);
    const at = `/sections/1/paper/sheets/${code}`;
    expect((await teacher.get(at)).body).toContain('Ålund, Jørgen');
    const bad = await teacher.post(at, { '1.reading': 'about half', '2.turns': '2' });
    expect(bad.statusCode).toBe(422);
    expect(bad.body).toContain('about half');
    expect((await teacher.post(at, {})).body).toContain('Nothing is entered yet.');
    const [first] = generateBench({ kind: 'dial-reading', drills: 4, level: 2 }, sheet?.seed ?? '').drills;
    await teacher.post(at, { '1.reading': String(first?.movement.toFixed(4)) });
    const page = await teacher.get(at);
    expect(page.body).toContain('1 of 4 right');
    expect(page.body).toContain('Entered by Odell Marchbanks');
    await teacher.post(at, { '1.reading': '0' });
    expect((await teacher.get(at)).body).toContain('0 of 4 right');
    expect(await built.store.db.selectFrom('paper_readings').selectAll().execute()).toHaveLength(2);
  });

  it('says when a code is none, and gives no sheet of another section away', async () => {
    const [sheet] = await sheets();
    expect((await teacher.get('/sections/1/paper?code=ABCDEFG')).body).toContain('This is no code.');
    const other = await sessionFor(built, 'duenas');
    expect((await other.get(`/sections/2/paper?code=${sheet?.code}`)).body).toContain(
      'No sheet of this section has this code.',
    );
    expect((await other.get(`/sections/2/paper/sheets/${sheet?.code}`)).statusCode).toBe(404);
    expect((await other.get(`/sections/2/paper/${sheet?.batch_id}`)).statusCode).toBe(404);
  });

  it('prints a measuring sheet of every kind of work, with its caution and no number of any bench', async () => {
    for (const work of MEASURING_KINDS) {
      const made = await make({ kind: 'measuring', work });
      const page = await teacher.get(made.headers.location as string);
      expect(page.body, work).toContain('manual and the rules of the shop come first');
      expect(page.body, work).not.toMatch(/Nominal|limits \d|position \d/i);
      const code = (await sheets()).at(-1)?.code ?? '';
      expect((await teacher.get(`/sections/1/paper/sheets/${code}`)).statusCode).toBe(200);
      expect((await teacher.get(`${made.headers.location}/key`)).statusCode).toBe(404);
    }
  });

  it('prints the steps of a sign-off as they stood, and leads back to entering it', async () => {
    built.store.raw.exec(`INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, definition)
      VALUES (93, 1, 93, 'Lift on a shop engine', 'shop-engine', '{"kind":"shop-engine","version":1,"steps":[{"text":"Glasses on","hold":false,"alone":true},{"text":"Power off and tagged","hold":true,"alone":true}],"prompts":2,"agreement":{"unit":"in","value":0.002}}')`);
    const made = await make({ kind: 'sign-off', item: '93' });
    const page = await teacher.get(made.headers.location as string);
    expect(page.body.match(/Power off and tagged/g)).toHaveLength(3);
    expect(page.body).toContain('2 H');
    const code = (await sheets()).at(-1)?.code ?? '';
    const sheet = await teacher.get(`/sections/1/paper/sheets/${code}`);
    expect(sheet.body).toContain('/sections/1/sign-offs?item=93&amp;student=4');
    expect((await teacher.post(`/sections/1/paper/sheets/${code}`, { '1.reading': '1' })).statusCode).toBe(
      404,
    );
  });

  it('keeps what was printed and entered for good', () => {
    for (const table of ['paper_batches', 'paper_sheets', 'paper_readings'])
      expect(() => built.store.raw.exec(`DELETE FROM ${table}`)).toThrow(/stays|only ever added to/);
  });
});
