import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { fieldsOn, problemsOn, writeSheet } from './sheet-form.ts';

const ATTEMPT = 'dddddddd-0000-4000-8000-000000000001';

describe('lab sheets that instructors write', () => {
  let built: TestApp;
  let marchbanks: Agent;
  beforeEach(async () => {
    built = await testApp();
    marchbanks = await signIn(built.app, 'marchbanks');
  });
  afterEach(() => built.close());

  const items = (sheetId: number) =>
    built.store.db
      .selectFrom('lab_sheet_items')
      .where('lab_sheet_id', '=', sheetId)
      .selectAll()
      .orderBy('ordinal')
      .execute();
  const sheet = (id: number) =>
    built.store.db.selectFrom('lab_sheets').where('id', '=', id).selectAll().executeTakeFirstOrThrow();
  /** Keeps the sheet again, with some fields written anew. */
  const change = async (id: number, fields: Readonly<Record<string, string>>) =>
    marchbanks.post(`/lab-sheets/${id}`, {
      ...fieldsOn((await marchbanks.get(`/lab-sheets/${id}`)).body),
      do: 'keep',
      ...fields,
    });

  it('are kept as they were put together, in order, each engine as it was set', async () => {
    const id = await writeSheet(
      marchbanks,
      'Week 3: cam lift & more',
      [
        'lesson:run-out',
        'question-set:run-out',
        'practice-engine:cam-lift:graded-run',
        'practice-engine:run-out:practice',
      ],
      {
        'i2-nominal': '0.214',
        'i2-lower': '0.210',
        'i2-upper': '0.218',
        'i2-positions': '3',
        'i2-tries': '2',
        'i2-rollerVerdict': 'on',
      },
    );
    const kept = await items(id);
    expect(
      kept.map(({ kind, lesson_slug, way, tries, share, hints }) => [
        kind,
        lesson_slug,
        way,
        tries,
        share,
        hints,
      ]),
    ).toEqual([
      ['lesson', 'run-out', null, null, 0, 0],
      ['question-set', 'run-out', null, null, 20, 0],
      ['practice-engine', null, 'graded-run', 2, 100, 0],
      ['practice-engine', null, 'practice', null, 0, 1],
    ]);
    expect(JSON.parse(kept[2]?.definition ?? '')).toMatchObject({
      kind: 'cam-lift',
      cylinders: 6,
      positions: 3,
      rollerVerdict: true,
      specification: { unit: 'in', nominal: 0.214, lower: 0.21, upper: 0.218 },
    });
    expect(await sheet(id)).toMatchObject({ title: 'Week 3: cam lift & more', version: 1, weights: null });
    const list = await marchbanks.get('/lab-sheets');
    expect(list.body).toContain('Week 3: cam lift &amp; more');
  });

  it('are moved about and thinned out by buttons, and nothing typed is lost meanwhile', async () => {
    const id = await writeSheet(marchbanks, 'Order', [
      'lesson:run-out',
      'lesson:end-play',
      'practice-engine:backlash:graded-run',
    ]);
    let page = await marchbanks.get(`/lab-sheets/${id}`);
    page = await marchbanks.post(`/lab-sheets/${id}`, {
      ...fieldsOn(page.body),
      'i0-title': 'Typed <b>',
      do: 'down 0',
    });
    expect(fieldsOn(page.body).items).toBe('1,0,2');
    expect(fieldsOn(page.body)['i0-title']).toBe('Typed <b>');
    page = await marchbanks.post(`/lab-sheets/${id}`, { ...fieldsOn(page.body), do: 'remove 1' });
    expect(fieldsOn(page.body).items).toBe('0,2');
    expect((await items(id)).map((item) => item.title)).not.toContain('Typed <b>');
    await marchbanks.post(`/lab-sheets/${id}`, { ...fieldsOn(page.body), do: 'keep' });
    expect((await items(id)).map((item) => [item.kind, item.title])).toEqual([
      ['lesson', 'Typed <b>'],
      ['practice-engine', expect.stringContaining('graded run')],
    ]);
    expect(await sheet(id)).toMatchObject({ version: 2 });
  });

  it.each([
    ['title', { title: ' ' }, 'Write a title of at most 120 letters.'],
    ['i0-share', { 'i0-share': 'lots' }, 'Write a number from 0 to 100.'],
    ['i0-tries', { 'i0-tries': '0' }, 'Write a whole number from 1 to 50, or leave it blank.'],
    [
      'i0-upper',
      { 'i0-nominal': '0.2', 'i0-lower': '0.3', 'i0-upper': '0.1' },
      'The upper limit must lie above the lower one.',
    ],
    ['i0-nominal', { 'i0-lower': '0.1' }, 'Write the nominal lift these limits belong to.'],
    [
      'i0-lower',
      { 'i0-lower': 'two tenths' },
      'Write a length in inches, for example 0.237, or leave it blank.',
    ],
    ['i0-positions', { 'i0-positions': '9' }, 'Write a whole number from 1 to 6.'],
    ['weight-setUp', { 'weight-setUp': '90' }, 'The four must make 100'],
  ])('say beside %s what is wrong with it, and keep what was typed', async (field, wrong, said) => {
    const id = await writeSheet(marchbanks, 'Before', ['practice-engine:cam-lift:graded-run']);
    const answer = await change(id, { title: 'After', ...wrong });
    expect(answer.statusCode).toBe(422);
    expect(problemsOn(answer.body)).toContain(said);
    expect(fieldsOn(answer.body)).toMatchObject({ title: 'After', ...wrong });
    expect(answer.body).toMatch(new RegExp(`name="${field}"[^>]*aria-invalid="true"`));
    expect(await sheet(id)).toMatchObject({ title: 'Before', version: 1 });
  });

  it('take limits and cylinders from an engine of the shop', async () => {
    await marchbanks.post('/shop/engines', {
      ...{ name: 'Inline four', number: 'E1', pumps: '4', barring: 'clockwise', unit: 'mm' },
      ...{ nominal: '5.44', lower: '5.34', upper: '', source: 'Manual, page 3' },
    });
    const id = await writeSheet(marchbanks, 'Ours', ['practice-engine:cam-lift:graded-run']);
    const page = await marchbanks.get(`/lab-sheets/${id}`);
    const filled = await marchbanks.post(`/lab-sheets/${id}`, {
      ...fieldsOn(page.body),
      'i0-engine': '1',
      do: 'engine 0',
    });
    expect(
      (await marchbanks.post(`/lab-sheets/${id}`, { ...fieldsOn(filled.body), do: 'keep' })).statusCode,
    ).toBe(303);
    expect(JSON.parse((await items(id))[0]?.definition ?? '')).toMatchObject({
      engineName: 'Inline four',
      cylinders: 4,
      specification: { unit: 'mm', nominal: 5.44, lower: 5.34, upper: null },
    });
  });

  it('keep the work of an item whose engine was changed, and put the new one in its place', async () => {
    const id = await writeSheet(marchbanks, 'Worked on', [
      'practice-engine:cam-lift:graded-run',
      'lesson:run-out',
    ]);
    const [before] = await items(id);
    await marchbanks.post(`/lab-sheets/${id}/assign`, { 'section-1': 'on', counts: 'best' });
    const given = await givenAttempt(built.store, {
      ...{ id: ATTEMPT, signInName: '003201', sectionId: 1, itemId: before?.id ?? 0, seed: 'worked-on' },
    });
    const stored = () =>
      built.store.db.selectFrom('attempts').where('id', '=', ATTEMPT).selectAll().executeTakeFirstOrThrow();
    const attempt = await stored();

    // What only the sheet says of the item may change where it stands.
    expect((await change(id, { 'i0-title': 'Called otherwise' })).headers.location).toContain(
      'said=sheet-kept',
    );
    expect((await items(id))[0]).toMatchObject({
      id: before?.id,
      title: 'Called otherwise',
      removed_at: null,
    });

    const changed = await change(id, { 'i0-cylinders': '4' });
    expect(changed.headers.location).toContain('said=sheet-kept-aside');
    const after = await items(id);
    const old = after.find((item) => item.id === before?.id);
    expect(old?.removed_at).not.toBeNull();
    expect(old?.definition).toBe(before?.definition);
    expect(JSON.parse(after.find((item) => item.ordinal === 1)?.definition ?? '')).toMatchObject({
      cylinders: 4,
    });
    expect(await stored()).toEqual(attempt);

    const student = await signIn(built.app, '003201');
    const home = await student.get('/');
    expect(home.body).toContain('No longer on the sheet. Your work stays.');
    const result = await student.get(`/attempts/${ATTEMPT}/result`);
    expect(result.body).toContain(`${Math.round(given.grade.total * 10) / 10}`);
    expect((await student.post(`/items/${before?.id}/attempts`, { sectionId: '1' })).statusCode).toBe(404);
  });

  it('are not kept over what was kept on another page since', async () => {
    const id = await writeSheet(marchbanks, 'Twice', ['lesson:run-out']);
    const stale = fieldsOn((await marchbanks.get(`/lab-sheets/${id}`)).body);
    await change(id, { title: 'First' });
    expect(
      (await marchbanks.post(`/lab-sheets/${id}`, { ...stale, title: 'Second', do: 'keep' })).statusCode,
    ).toBe(409);
    expect(await sheet(id)).toMatchObject({ title: 'First' });
  });

  it('leave every version as it was', async () => {
    const id = await writeSheet(marchbanks, 'One', ['lesson:run-out']);
    await change(id, { title: 'Two' });
    const versions = await built.store.db
      .selectFrom('lab_sheet_versions')
      .where('lab_sheet_id', '=', id)
      .select(['version', 'content'])
      .orderBy('version')
      .execute();
    expect(versions.map(({ version, content }) => [version, JSON.parse(content).title])).toEqual([
      [1, 'One'],
      [2, 'Two'],
    ]);
    expect(() => built.store.raw.exec(`UPDATE lab_sheet_versions SET content = '{}'`)).toThrow(
      /only ever added to/,
    );
  });

  it('of the program are copied, not changed; a copy may be weighed another way, evidence may not', async () => {
    const program = await marchbanks.get('/lab-sheets/1');
    expect(program.headers.location).toBe('/lab-sheets/1/preview');
    expect((await marchbanks.post('/lab-sheets/1', { title: 'Mine now' })).statusCode).toBe(403);
    const copied = await marchbanks.post('/lab-sheets/1/copy');
    const id = Number(/^\/lab-sheets\/(\d+)/.exec(String(copied.headers.location))?.[1]);
    const weights = {
      'weight-setUp': '10',
      'weight-procedure': '20',
      'weight-reading': '60',
      'weight-verdict': '10',
    };
    expect((await change(id, weights)).statusCode).toBe(303);
    expect(JSON.parse((await sheet(id)).weights ?? '')).toEqual({
      setUp: 10,
      procedure: 20,
      reading: 60,
      verdict: 10,
    });

    // Made evidence by the coordinator, what it weighs is fixed.
    const graded = (await items(id)).find((item) => item.way === 'graded-run');
    built.store.raw
      .prepare(
        `INSERT INTO evidence_rules (competency_id, version, rule, in_force_from, items)
         SELECT 1, 2, rule, '2026-09-14T00:00:00.000Z', json_array(?) FROM evidence_rules`,
      )
      .run(graded?.id);
    await change(id, {
      'weight-setUp': '40',
      'weight-procedure': '20',
      'weight-reading': '30',
      'weight-verdict': '10',
    });
    expect(JSON.parse((await sheet(id)).weights ?? '')).toEqual({
      setUp: 10,
      procedure: 20,
      reading: 60,
      verdict: 10,
    });
  });

  it('are a colleague’s to see once assigned to a section they share', async () => {
    const id = await writeSheet(marchbanks, 'Shared', ['lesson:run-out']);
    const duenas = await signIn(built.app, 'duenas');
    expect((await duenas.get(`/lab-sheets/${id}/preview`)).statusCode).toBe(404);
    await marchbanks.post(`/lab-sheets/${id}/assign`, { 'section-1': 'on', counts: 'best' });
    await marchbanks.post('/sections/1/instructors', { signInName: 'duenas' });
    expect((await duenas.get(`/lab-sheets/${id}/preview`)).statusCode).toBe(200);
    expect((await duenas.post(`/lab-sheets/${id}`, { title: 'Hers' })).statusCode).toBe(403);
  });
});
