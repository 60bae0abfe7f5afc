import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { unzip } from '../../../server/sections/zip.ts';
import { oneRosterFiles } from '../../../server/teaching/oneroster-results.ts';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { sessionFor } from '../../support/session.ts';
import { confirmed } from '../sections/load-roster.ts';
import { set12, zipped } from '../sections/one-roster-set.ts';

/** Columns of the standard, in its order, as open-standards lists them: OneRoster CSV binding 1.2, and its changes from 1.1. */
const COLUMNS = {
  '1.2': {
    lineItems:
      'sourcedId,status,dateLastModified,title,description,assignDate,dueDate,classSourcedId,categorySourcedId,academicSessionSourcedId,resultValueMin,resultValueMax,schoolSourcedId',
    results:
      'sourcedId,status,dateLastModified,lineItemSourcedId,studentSourcedId,scoreStatus,score,scoreDate,comment,textScore,classSourcedId,inProgress,incomplete,late,missing',
  },
  '1.1': {
    lineItems:
      'sourcedId,status,dateLastModified,title,description,assignDate,dueDate,classSourcedId,categorySourcedId,gradingPeriodSourcedId,resultValueMin,resultValueMax',
    results:
      'sourcedId,status,dateLastModified,lineItemSourcedId,studentSourcedId,scoreStatus,score,scoreDate,comment',
  },
} as const;

describe('scores as OneRoster', () => {
  let built: TestApp;
  let teacher: Agent;
  beforeAll(async () => {
    built = await testApp();
    teacher = await sessionFor(built, 'marchbanks');
    const body = await zipped(set12());
    await confirmed(
      teacher,
      await teacher.postFile('/sections/1/roster', { field: 'file', name: 'set.zip', body }),
    );
    // 004117 is user-1 of the set: one run on the first sheet alone.
    await givenAttempt(built.store, {
      ...{ id: 'one', seed: 'or', signInName: '004117', sectionId: 1, itemId: 3 },
    });
  });
  afterAll(() => built.close());

  async function exported(version: '1.1' | '1.2') {
    const answer = await teacher.post('/sections/1/scores/oneroster', { version });
    expect(answer.headers['content-type']).toBe('application/zip');
    const files = await unzip(answer.rawPayload);
    const text = (name: string) => files.get(`${name}.csv`)?.toString('utf8') ?? '';
    const rows = (name: string) => parse(text(name), { columns: true }) as Readonly<Record<string, string>>[];
    return { names: [...files.keys()], text, rows };
  }

  for (const version of ['1.2', '1.1'] as const)
    it(`holds what ${version} asks for: columns in order, a manifest that names every file, blank status in a bulk set`, async () => {
      const { names, text, rows } = await exported(version);
      expect(names.sort()).toEqual(['categories.csv', 'lineItems.csv', 'manifest.csv', 'results.csv']);
      expect(text('lineItems').split('\r\n')[0]).toBe(COLUMNS[version].lineItems);
      expect(text('results').split('\r\n')[0]).toBe(COLUMNS[version].results);
      const manifest = new Map(rows('manifest').map(({ propertyName, value }) => [propertyName, value]));
      expect(manifest.get('manifest.version')).toBe('1.0');
      expect(manifest.get('oneroster.version')).toBe(version);
      for (const [name, value] of manifest)
        if (name?.startsWith('file.'))
          expect(value, name).toBe(names.includes(`${name.slice(5)}.csv`) ? 'bulk' : 'absent');
      for (const row of [...rows('lineItems'), ...rows('results')]) {
        expect([row.status, row.dateLastModified]).toEqual(['', '']);
        expect(row.sourcedId).toMatch(/^[A-Za-z0-9._/@-]{1,255}$/);
      }
    });

  it('calls class, school, term and students as the set did that they came from, and all others by number', async () => {
    const { rows } = await exported('1.2');
    for (const item of rows('lineItems')) {
      expect(item).toMatchObject({
        ...{ classSourcedId: 'class-1', schoolSourcedId: 'org-1', academicSessionSourcedId: 'term-1' },
        ...{ resultValueMin: '0.0', resultValueMax: '100.0' },
      });
      expect(item.assignDate).toMatch(/^\d{4}-\d{2}-\d{2}$/);
    }
    const students = new Set(rows('results').map((row) => row.studentSourcedId));
    for (const one of ['user-1', 'user-2', 'user-3', 'student-003201']) expect(students).toContain(one);
    expect((await teacher.get('/sections/1/scores')).body).toContain('3 of these students did not come');
  });

  it('gives the score that the page shows, says what is not all there yet, and nothing where there is nothing', async () => {
    const { rows } = await exported('1.2');
    const scored = rows('results').filter((row) => row.score !== '');
    expect(scored).toHaveLength(1);
    const [one] = scored;
    expect(one?.studentSourcedId).toBe('user-1');
    // The sheet has one graded run that counts: its score is that run's own points.
    const points = built.store.raw
      .prepare("SELECT points FROM grades WHERE attempt_id = 'one'")
      .pluck()
      .get();
    expect(one?.score).toBe((points as number).toFixed(1));
    expect(one).toMatchObject({ scoreStatus: 'fully graded', inProgress: 'false' });
    expect(rows('results').filter((row) => row.scoreStatus === 'not submitted').length).toBeGreaterThan(10);
    // 1.1 asks for a score in each result.
    expect((await exported('1.1')).rows('results')).toHaveLength(1);
  });

  it('is written down as an export', async () => {
    const last = built.store.raw.prepare('SELECT * FROM exports ORDER BY id DESC LIMIT 1').get();
    expect(JSON.stringify(last)).toContain('OneRoster 1.1');
  });

  it('says of a score that something may still be added to that it is partial', () => {
    const files = oneRosterFiles(
      '1.2',
      { id: 1, timeZone: 'America/Denver' },
      {
        sheets: [
          {
            ...{ sheetId: 7, sectionId: 1, title: '=Lift, "A"', assignedAt: '2026-09-02T03:00:00.000Z' },
            ...{ dueAt: null, latePercent: 0, lateDays: null, counts: 'best', begun: 1, items: [] },
          },
        ],
        students: [
          { personId: 4, sheets: [{ score: 66.66, soFar: true, items: [] }] },
          { personId: 5, sheets: [{ score: null, soFar: true, items: [] }] },
        ],
      },
      {
        ...{ classId: 'c', schoolId: 's', termId: 't', unknown: 0 },
        students: new Map([
          [4, 'user-4'],
          [5, 'user-5'],
        ]),
      },
      '2026-09-15T03:00:00.000Z',
    );
    const rows = (name: string) =>
      parse(files.get(`${name}.csv`) ?? '', { columns: true }) as Readonly<Record<string, string>>[];
    expect(rows('results')).toMatchObject([
      { studentSourcedId: 'user-4', scoreStatus: 'partially graded', score: '66.7', scoreDate: '2026-09-14' },
      { studentSourcedId: 'user-5', scoreStatus: 'not submitted', score: '' },
    ]);
    // Days by the section's clock, six hours behind; a title is handed over as it is.
    expect(rows('lineItems')).toMatchObject([
      { title: '=Lift, "A"', assignDate: '2026-09-01', dueDate: '2026-09-14' },
    ]);
  });
});
