import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recordCsv } from '../../../server/exports/csv.ts';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { type GivenAttempt, givenAttempt } from '../../support/given-attempt.ts';
import { sessionFor } from '../../support/session.ts';
import { ONE_RUN, ruleInForce } from '../support/rule-in-force.ts';

const TWO_RUNS = { ...ONE_RUN, runs: { ...ONE_RUN.runs, count: 2 } };

const HEADINGS = [
  'competency_code',
  'competency_title',
  'family_name',
  'given_name',
  'student_number',
  'section',
  'term',
  'status',
  'evidence_kind',
  'rule_version',
  'attempt_ids',
  'points',
  'handed_in_at',
  'graded_by_engine_version',
  'shop_sign_offs',
  'as_of',
  'since',
  'until',
  'sign_off_ids',
  'assessors',
  'countersigned_by',
  'gauge_numbers',
  'gauge_checks_due',
];

const read = (file: string): Record<string, string>[] => parse(file, { columns: true, bom: true });

describe('the export of a competency', () => {
  let built: TestApp;
  let coordinator: Agent;
  const given: Record<string, GivenAttempt> = {};
  beforeAll(async () => {
    built = await testApp();
    coordinator = await sessionFor(built, 'vossberg');
    await ruleInForce(built.store, 2, TWO_RUNS, '2026-09-01T00:00:00.000Z');
    const graded = async (
      id: string,
      signInName: string,
      sectionId: number,
      itemId: number,
      at: string,
      skips = false,
    ) => {
      given[id] = await givenAttempt(built.store, {
        id,
        signInName,
        sectionId,
        itemId,
        seed: `export-${id}`,
        at,
        ...(skips && { habits: { skip: () => true } }),
      });
    };
    await graded('inch', '003201', 1, 3, '2026-09-11T10:00:00.000Z');
    await graded('metric', '003201', 1, 5, '2026-09-10T10:00:00.000Z');
    await graded('hostile', '003204', 2, 3, '2026-09-12T10:00:00.000Z');
    await graded('again', '003204', 2, 5, '2026-09-12T12:00:00.000Z');
    await graded('failed', '003202', 1, 3, '2026-09-12T11:00:00.000Z', true);
    await built.store.db
      .updateTable('people')
      .set({ family_name: '=HYPERLINK("http://x.example","click")', given_name: '  +1, "Bo"\nthe second' })
      .where('sign_in_name', '=', '003204')
      .execute();
  });
  afterAll(() => built.close());

  const rows = () => built.store.db.selectFrom('exports').selectAll().execute();

  it('says what the file will hold before it is taken', async () => {
    const { statusCode, body } = await coordinator.get('/competencies/1/export');
    expect(statusCode).toBe(200);
    expect(body).toContain('2 rows today');
    expect(body).toContain('Never.');
    expect(await rows()).toEqual([]);
  });

  it('holds one row for each student who meets it, with the evidence that counts, and is written down', async () => {
    // The precondition, from the engine: four are sound runs, the other has a stop.
    expect(
      ['inch', 'metric', 'hostile', 'again'].map(
        (id) => (given[id]?.grade.total ?? 0) >= 80 && given[id]?.grade.stops.length === 0,
      ),
    ).toEqual([true, true, true, true]);
    const response = await coordinator.post('/competencies/1/export');
    expect(response.statusCode).toBe(200);
    expect(response.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(response.headers['content-disposition']).toBe('attachment; filename="IC-LIFT-2026-09-14.csv"');
    expect(response.rawPayload.subarray(0, 3)).toEqual(Buffer.from([0xef, 0xbb, 0xbf]));

    const points = (id: string) => (given[id]?.grade.total ?? 0).toFixed(1);
    const version = given.inch?.grade.engineVersion ?? '';
    const same = {
      competency_code: 'IC-LIFT',
      competency_title: 'Measures injection-cam lift',
      term: 'Autumn 2026',
      status: 'practice part met',
      evidence_kind: 'practice engine',
      rule_version: '2',
      shop_sign_offs: '0',
      as_of: '2026-09-14T08:00:00.000Z',
      until: '',
      sign_off_ids: '',
      assessors: '',
      countersigned_by: '',
      gauge_numbers: '',
      gauge_checks_due: '',
    };
    expect(read(response.body)).toEqual([
      {
        ...same,
        family_name: '\'=HYPERLINK("http://x.example","click")',
        given_name: '\'  +1, "Bo"\nthe second',
        student_number: '003204',
        section: 'Fuel systems, section B',
        attempt_ids: 'hostile; again',
        points: `${points('hostile')}; ${points('again')}`,
        handed_in_at: '2026-09-12T10:00:00.000Z; 2026-09-12T12:00:00.000Z',
        graded_by_engine_version: `${version}; ${version}`,
        since: '2026-09-12T12:00:00.000Z',
      },
      {
        ...same,
        family_name: 'Okereke',
        given_name: 'Tamsin',
        student_number: '003201',
        section: 'Fuel systems, section A',
        attempt_ids: 'metric; inch',
        points: `${points('metric')}; ${points('inch')}`,
        handed_in_at: '2026-09-10T10:00:00.000Z; 2026-09-11T10:00:00.000Z',
        graded_by_engine_version: `${version}; ${version}`,
        since: '2026-09-11T10:00:00.000Z',
      },
    ]);
    const [first] = response.body.replace('\ufeff', '').split('\r\n');
    expect(first).toBe(HEADINGS.map((heading) => `"${heading}"`).join(','));
    expect(await rows()).toEqual([
      {
        id: 1,
        person_id: 1,
        what: expect.stringContaining('IC-LIFT, rule version 2'),
        rows: 2,
        at: '2026-09-14T08:00:00.000Z',
      },
    ]);
    expect((await coordinator.get('/competencies/1/export')).body).toContain('IC-LIFT, rule version 2, CSV');
  });

  it('goes by changed points', async () => {
    await built.store.db
      .insertInto('grade_changes')
      .values({
        attempt_id: 'hostile',
        set_up: 0,
        procedure: 0,
        reading: 0,
        verdict: 0,
        reason: 'A test.',
        changed_by: 3,
        at: '2026-09-13T00:00:00.000Z',
      })
      .execute();
    const { body } = await coordinator.post('/competencies/1/export');
    expect(read(body).map((row) => row.student_number)).toEqual(['003201']);
    expect((await rows()).map((row) => row.rows)).toEqual([2, 1]);
  });

  it('needs the token of a form: nobody else’s page can take one out', async () => {
    const response = await coordinator.post('/competencies/1/export', { _csrf: 'wrong' });
    expect(response.statusCode).toBe(403);
    expect(await rows()).toHaveLength(2);
  });

  it('is not found for a competency that is not there', async () => {
    expect((await coordinator.post('/competencies/99/export')).statusCode).toBe(404);
  });
});

describe('the CSV', () => {
  const blank = Object.fromEntries(HEADINGS.map((heading) => [heading, '']));
  const written = (given_name: string) =>
    read(recordCsv([{ ...blank, given_name } as Parameters<typeof recordCsv>[0][number]]))[0]?.given_name;

  it.each([
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    ' =1',
    '   @x',
    '\u00a0-2',
    '＝1',
    ' ＋1',
    '\n=1',
  ])('lets no spreadsheet take %j for a formula', (name) => {
    expect(written(name)).toBe(`'${name}`);
  });

  it.each(['O’Quinn', 'A-B', 'x=1', '003201', 'Ł, "q"', 'line\r\nbreak', ''])(
    'leaves %j as it is',
    (name) => {
      expect(written(name)).toBe(name);
    },
  );

  it('holds the headings when nobody meets it', () => {
    expect(recordCsv([])).toBe(`\ufeff${HEADINGS.map((heading) => `"${heading}"`).join(',')}\r\n`);
  });
});
