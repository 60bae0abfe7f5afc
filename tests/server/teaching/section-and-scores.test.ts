import { parse } from 'csv-parse/sync';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { fieldsOn, problemsOn, writeSheet } from './sheet-form.ts';

describe('a section and what it is to do', () => {
  let built: TestApp;
  let marchbanks: Agent;
  beforeEach(async () => {
    built = await testApp();
    marchbanks = await signIn(built.app, 'marchbanks');
  });
  afterEach(() => built.close());

  const sections = () => built.store.db.selectFrom('sections').selectAll().orderBy('id').execute();
  const assigned = (sectionId: number) =>
    built.store.db
      .selectFrom('assignments')
      .where('section_id', '=', sectionId)
      .selectAll()
      .orderBy('lab_sheet_id')
      .execute();
  const make = async (fields: Readonly<Record<string, string>>) =>
    marchbanks.post('/sections', { ...fieldsOn((await marchbanks.get('/sections/new')).body), ...fields });

  it('is made from last term’s: its sheets without dates, its lessons, its instructors, none of its students', async () => {
    await marchbanks.post('/sections/1/instructors', { signInName: 'duenas' });
    await marchbanks.post('/sections/1/sheets/1', {
      day: '2026-10-02',
      time: '17:00',
      late: '5',
      lateDays: '3',
      counts: 'last',
    });
    await marchbanks.post('/sections/1/lessons', {
      ...fieldsOn((await marchbanks.get('/sections/1/lessons')).body),
      do: 'keep',
      'release-run-out': '2026-10-05',
    });
    const made = await make({
      name: 'Fuel systems',
      term: 'Spring 2027',
      timeZone: 'America/Chicago',
      copyFrom: '1',
    });
    const id = Number(/^\/sections\/(\d+)/.exec(String(made.headers.location))?.[1]);
    expect((await sections()).find((one) => one.id === id)).toMatchObject({
      name: 'Fuel systems',
      time_zone: 'America/Chicago',
    });
    const before = await assigned(1);
    expect(
      (await assigned(id)).map((one) => [one.lab_sheet_id, one.due_at, one.late_percent, one.counts]),
    ).toEqual(before.map((one) => [one.lab_sheet_id, null, one.late_percent, one.counts]));
    expect(before[0]).toMatchObject({
      due_at: '2026-10-02T17:00:00.000Z',
      late_percent: 5,
      late_days: 3,
      counts: 'last',
    });
    const plan = await marchbanks.get(`/sections/${id}/lessons`);
    expect(plan.statusCode).toBe(200);
    expect(fieldsOn(plan.body)['release-run-out']).toBe('');
    expect((await (await signIn(built.app, 'duenas')).get(`/sections/${id}`)).statusCode).toBe(200);
    expect((await marchbanks.get(`/sections/${id}`)).body).toContain('Nobody on the roster yet');
  });

  it.each([
    ['no name', { name: ' ' }, 'Write what the section is called.'],
    ['no term', { term: '' }, 'Write its term'],
    ['a clock there is none of', { timeZone: 'Nowhere/Land' }, 'Choose a time zone from the list.'],
    ['a name that is taken', {}, 'There is already a section called'],
  ])('is not made with %s', async (_, wrong, said) => {
    const [first] = await sections();
    const before = (await sections()).length;
    const answer = await make({
      name: first?.name ?? '',
      term: first?.term ?? '',
      timeZone: 'UTC',
      ...wrong,
    });
    expect(answer.statusCode).toBe(422);
    expect(problemsOn(answer.body)).toContain(said);
    expect((await sections()).length).toBe(before);
  });

  it('is not copied from a section of somebody else', async () => {
    const made = await make({ name: 'Copied', term: 'Spring 2027', timeZone: 'UTC', copyFrom: '2' });
    const id = Number(/^\/sections\/(\d+)/.exec(String(made.headers.location))?.[1]);
    expect(await assigned(id)).toEqual([]);
  });

  it('archived, is out of its students’ sight until it runs again', async () => {
    const student = await signIn(built.app, '003201');
    const title = 'Injection-cam lift';
    expect((await student.get('/')).body).toContain(title);
    await marchbanks.post('/sections/1/archive');
    expect((await student.get('/')).body).not.toContain(title);
    expect((await student.post('/items/2/attempts', { sectionId: '1' })).statusCode).toBe(404);
    expect((await marchbanks.get('/sections')).body).toContain('Archived sections (1)');
    await marchbanks.post('/sections/1/archive');
    expect((await student.get('/')).body).toContain(title);
  });

  it('keeps one instructor', async () => {
    const { id } = await built.store.db
      .selectFrom('people')
      .where('sign_in_name', '=', 'marchbanks')
      .select('id')
      .executeTakeFirstOrThrow();
    expect((await marchbanks.post(`/sections/1/instructors/${id}/remove`)).statusCode).toBe(409);
    expect(
      problemsOn((await marchbanks.post('/sections/1/instructors', { signInName: '003201' })).body),
    ).toBe('No instructor signs in by that name.');
  });

  it('has a due date by its own clock, said to its students with what being late costs', async () => {
    await marchbanks.post('/sections/1/settings', {
      ...fieldsOn((await marchbanks.get('/sections/1/settings')).body),
      timeZone: 'America/Chicago',
    });
    const id = await writeSheet(marchbanks, 'Dated', ['practice-engine:cam-lift:graded-run']);
    // The test's clock stands in September 2026: Chicago is at UTC−5.
    const answer = await marchbanks.post(`/lab-sheets/${id}/assign`, {
      ...{ 'section-1': 'on', day: '2026-10-02', time: '17:00', late: '12,5', lateDays: '2', counts: 'last' },
    });
    expect(answer.headers.location).toBe('/sections/1?said=sheet-assigned');
    expect((await assigned(1)).at(-1)).toMatchObject({
      ...{
        lab_sheet_id: id,
        due_at: '2026-10-02T22:00:00.000Z',
        late_percent: 12.5,
        late_days: 2,
        counts: 'last',
      },
    });
    const student = await signIn(built.app, '003201');
    expect((await student.get('/')).body).toContain(
      'Due 2 Oct 2026, 17:00. Late work loses 12.5 % of its score for each day begun. It is taken for 2 days after that.',
    );
  });

  it.each([
    ['sections', { 'section-1': '' }, 'Choose at least one section.'],
    ['day', { day: '2026-02-30' }, 'Choose a day, and a time like 23:59; or leave the day blank.'],
    ['late', { late: '101' }, 'Write a number from 0 to 100.'],
    ['lateDays', { lateDays: '1.5' }, 'Write a whole number of days, or leave it blank.'],
  ])('refuses wrong terms beside %s, and assigns nothing', async (_, wrong, said) => {
    const id = await writeSheet(marchbanks, 'Refused', ['lesson:run-out']);
    const answer = await marchbanks.post(`/lab-sheets/${id}/assign`, {
      ...{
        'section-1': 'on',
        day: '2026-10-02',
        time: '17:00',
        late: '7',
        lateDays: '7',
        counts: 'best',
        ...wrong,
      },
    });
    expect(answer.statusCode).toBe(422);
    expect(problemsOn(answer.body)).toContain(said);
    expect(await assigned(1).then((all) => all.some((one) => one.lab_sheet_id === id))).toBe(false);
  });

  it('is not assigned a sheet by an instructor who does not teach it', async () => {
    const id = await writeSheet(marchbanks, 'Elsewhere', ['lesson:run-out']);
    const answer = await marchbanks.post(`/lab-sheets/${id}/assign`, { 'section-2': 'on', counts: 'best' });
    expect(answer.statusCode).toBe(422);
    expect((await assigned(2)).some((one) => one.lab_sheet_id === id)).toBe(false);
  });

  it('is closed after the last late day, except for the one who was given extra time', async () => {
    const id = await writeSheet(marchbanks, 'Closed', ['practice-engine:cam-lift:graded-run']);
    const item = await built.store.db
      .selectFrom('lab_sheet_items')
      .where('lab_sheet_id', '=', id)
      .select('id')
      .executeTakeFirstOrThrow();
    await marchbanks.post(`/lab-sheets/${id}/assign`, {
      ...{ 'section-1': 'on', day: '2026-08-20', time: '12:00', late: '10', lateDays: '1', counts: 'best' },
    });
    const student = await signIn(built.app, '003201');
    expect((await student.post(`/items/${item.id}/attempts`, { sectionId: '1' })).statusCode).toBe(409);
    const refused = await marchbanks.post(`/sections/1/sheets/${id}/extra-time`, {
      personId: '',
      day: '',
      reason: '',
    });
    expect(problemsOn(refused.body)).toBe(
      'Choose a student. / Choose a day, and a time like 23:59. / Say why, in a few words.',
    );
    // Another section's student is none of theirs.
    expect(
      (
        await marchbanks.post(`/sections/1/sheets/${id}/extra-time`, {
          personId: '7',
          day: '2030-01-01',
          reason: 'ill',
        })
      ).statusCode,
    ).toBe(404);
    const given = { personId: '4', day: '2030-01-01', time: '12:00', reason: 'was ill' };
    expect((await marchbanks.post(`/sections/1/sheets/${id}/extra-time`, given)).statusCode).toBe(303);
    expect((await student.post(`/items/${item.id}/attempts`, { sectionId: '1' })).statusCode).toBe(303);
    const other = await signIn(built.app, '003202');
    expect((await other.post(`/items/${item.id}/attempts`, { sectionId: '1' })).statusCode).toBe(409);
  });

  it('has its scores exported to the rules that were set, and the export written down', async () => {
    const id = await writeSheet(
      marchbanks,
      '=Sums & such',
      ['practice-engine:cam-lift:graded-run', 'practice-engine:cam-lift:graded-run'],
      {
        'i1-share': '50',
      },
    );
    const [one, two] = await built.store.db
      .selectFrom('lab_sheet_items')
      .where('lab_sheet_id', '=', id)
      .selectAll()
      .orderBy('ordinal')
      .execute();
    await marchbanks.post(`/lab-sheets/${id}/assign`, {
      ...{ 'section-1': 'on', day: '2026-08-20', time: '12:00', late: '10', lateDays: '7', counts: 'best' },
    });
    const run = (n: number, name: string, itemId: number | undefined, at: string, tryNumber = 1) =>
      givenAttempt(built.store, {
        ...{ id: `dddddddd-0000-4000-8000-00000000010${n}`, signInName: name, sectionId: 1 },
        ...{ itemId: itemId ?? 0, seed: `scores-${n}`, at, tryNumber },
      });
    // 003201: the first in time, the second 25 h late: two days begun. 003202: the first only. 003203: nothing.
    const first = await run(1, '003201', one?.id, '2026-08-20T11:00:00.000Z');
    const second = await run(2, '003201', two?.id, '2026-08-21T13:00:00.000Z');
    const other = await run(3, '003202', one?.id, '2026-08-20T12:00:00.000Z');
    const answer = await marchbanks.post('/sections/1/scores');
    expect(answer.headers['content-type']).toContain('text/csv');
    const rows = parse(answer.body, { bom: true, columns: true }) as Record<string, string>[];
    const score = (number: string) =>
      rows.find((row) => row.student_number?.replace(/^'/, '') === number)?.["'=Sums & such"];
    expect(score('003201')).toBe(
      ((first.grade.total * 100 + second.grade.total * 0.8 * 50) / 150).toFixed(1),
    );
    expect(score('003202')).toBe(((other.grade.total * 100 + 0) / 150).toFixed(1));
    expect(score('003203')).toBe('0.0');
    const noted = await built.store.db.selectFrom('exports').selectAll().execute();
    expect(noted).toMatchObject([{ rows: rows.length }]);
    expect((await marchbanks.get('/sections/1/scores')).body).toContain('=Sums &amp; such');
  });
});
