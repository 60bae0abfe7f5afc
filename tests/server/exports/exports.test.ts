import { createHash } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { csvPieces } from '../../../server/exports/forms.ts';
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
  'assessor_standings',
  'wrench_numbers',
  'wrench_checks_due',
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

  const ASKED = {
    ...{ form: 'standings', competencies: 'competency-1', people: '', asOf: '' },
    ...{ recipient: 'J. Doe, Northgate Diesel', purpose: 'asked for by the student' },
  };
  const take = (asked: Partial<typeof ASKED> = {}) => coordinator.post('/exports', { ...ASKED, ...asked });

  it('asks for whom and what for, and keeps what was typed', async () => {
    expect((await coordinator.get('/exports?competencies=competency-1')).body).toMatch(
      /<option value="competency-1" selected/,
    );
    const { statusCode, body } = await take({ recipient: ' ', asOf: '2030-01-01' });
    expect(statusCode).toBe(422);
    expect(body).toContain('Write who it is for.');
    expect(body).toContain('value="asked for by the student"');
    expect((await take({ asOf: '2030-01-01' })).body).toContain('Choose a day that is over');
    expect((await take({ people: 'section-99' })).body).toContain('Choose whose records.');
    expect(await rows()).toEqual([]);
  });

  it('holds one row for each student who meets it, with the evidence that counts, and is written down', async () => {
    // The precondition, from the engine: four are sound runs, the other has a stop.
    expect(
      ['inch', 'metric', 'hostile', 'again'].map(
        (id) => (given[id]?.grade.total ?? 0) >= 80 && given[id]?.grade.stops.length === 0,
      ),
    ).toEqual([true, true, true, true]);
    const response = await take();
    expect(response.statusCode).toBe(200);
    expect(response.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(response.headers['content-disposition']).toBe(
      'attachment; filename="dialbench-standings-2026-09-14.csv"',
    );
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
      assessor_standings: '',
      wrench_numbers: '',
      wrench_checks_due: '',
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
    expect(first).toBe(HEADINGS.join(','));
    const [note] = await rows();
    expect(note).toMatchObject({
      ...{ id: 1, person_id: 1, form: 'standings', at: '2026-09-14T08:00:00.000Z' },
      ...{ as_of: '2026-09-14T08:00:00.000Z', recipient: ASKED.recipient, purpose: ASKED.purpose },
      what: expect.stringContaining('IC-LIFT (rule version 2); the whole program'),
      chain_link: expect.stringMatching(/^[0-9a-f]{64}$/),
    });
    expect(JSON.parse(note?.scope ?? '')).toEqual({
      rules: { '5b0f6c1e-9d3a-4e77-8a41-2f6d0c93b7e5': 2 },
    });
    const { db } = built.store;
    expect(await db.selectFrom('export_ends').selectAll().execute()).toEqual([
      {
        ...{ export_id: 1, rows: 2, bytes: response.rawPayload.length, at: '2026-09-14T08:00:00.000Z' },
        sha256: createHash('sha256').update(response.rawPayload).digest('hex'),
      },
    ]);
    const about = await db.selectFrom('export_students').selectAll().execute();
    expect(about.map(({ student_id }) => student_id)).toEqual([4, 5, 6, 7, 8, 9]);
    const page = (await coordinator.get('/exports')).body;
    expect(page).toContain('IC-LIFT (rule version 2)');
    expect(page).toContain('J. Doe, Northgate Diesel: asked for by the student');
  });

  it('has a line for each piece of evidence, those too that do not count, as it stood on a day', async () => {
    const lines = read((await take({ form: 'evidence' })).body);
    expect(lines.map((line) => `${line.evidence_id} ${line.counts}`).sort()).toEqual([
      'again yes',
      'failed no',
      'hostile yes',
      'inch yes',
      'metric yes',
    ]);
    const failed = lines.find((line) => line.evidence_id === 'failed');
    expect(failed).toMatchObject({
      ...{ evidence_kind: 'practice engine', student_number: '003202', try: '1', rule_version: '2' },
      ...{ at: '2026-09-12T11:00:00.000Z', points: String(given.failed?.grade.total), assessor: '' },
      graded_by: `measuring engine ${given.failed?.grade.engineVersion}`,
      why_not: expect.stringMatching(/stop/),
    });
    const earlier = read((await take({ form: 'evidence', asOf: '2026-09-10' })).body);
    expect(earlier.map((line) => [line.evidence_id, line.as_of])).toEqual([
      ['metric', '2026-09-10T23:59:59.999Z'],
    ]);
  });

  it('has a line for each student, of a section alone', async () => {
    const lines = read((await take({ form: 'wide', people: 'section-1' })).body);
    expect(lines.map((line) => [line.student_number, line['IC-LIFT status'], line['IC-LIFT since']])).toEqual(
      [
        ['003202', 'begun', '2026-09-12T11:00:00.000Z'],
        ['003203', 'nothing yet', ''],
        ['003201', 'practice part met', '2026-09-11T10:00:00.000Z'],
      ],
    );
  });

  it('is JSON with the rules and every reason', async () => {
    const answer = await take({ form: 'json', people: 'student-4' });
    const json = JSON.parse(answer.body);
    expect(json).toMatchObject({
      ...{ format: 'dialbench-record', version: 1, asOf: '2026-09-14T08:00:00.000Z' },
      competencies: [
        {
          ...{ code: 'IC-LIFT', uuid: '5b0f6c1e-9d3a-4e77-8a41-2f6d0c93b7e5' },
          rules: [{ version: 1 }, { version: 2, inForceFrom: '2026-09-01T00:00:00.000Z' }],
        },
      ],
      people: [
        {
          ...{ studentNumber: '003201', familyName: 'Okereke' },
          standings: [
            {
              ...{ state: 'practice', ruleVersion: 2, missing: ['a sign-off on a shop engine'] },
              evidence: [
                { kind: 'practice engine', id: 'metric' },
                { kind: 'practice engine', id: 'inch' },
              ],
            },
          ],
        },
      ],
    });
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
    const { body } = await take();
    expect(read(body).map((row) => row.student_number)).toEqual(['003201']);
    const [line] = read((await take({ form: 'evidence' })).body).filter(
      (one) => one.evidence_id === 'hostile',
    );
    expect(line).toMatchObject({ points: '0', counts: 'no', points_changed_by: 'Ximena Dueñas' });
  });

  it('needs the token of a form: nobody else’s page can take one out', async () => {
    const before = (await rows()).length;
    const response = await coordinator.post('/exports', { ...ASKED, _csrf: 'wrong' });
    expect(response.statusCode).toBe(403);
    expect(await rows()).toHaveLength(before);
  });
});

describe('the CSV', () => {
  const fileOf = async (batches: readonly (readonly (readonly string[])[])[]) => {
    let file = '';
    const given = async function* () {
      yield* batches;
    };
    for await (const { text } of csvPieces(['number', 'given_name'], given())) file += text;
    return file;
  };
  const written = async (given_name: string) => read(await fileOf([[['1', given_name]]]))[0]?.given_name;

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
  ])('lets no spreadsheet take %j for a formula', async (name) => {
    expect(await written(name)).toBe(`'${name}`);
  });

  it.each(['O’Quinn', 'A-B', 'x=1', '003201', 'Ł, "q"', 'line\r\nbreak', ''])(
    'leaves %j as it is',
    async (name) => {
      expect(await written(name)).toBe(name);
    },
  );

  it('holds the headings once, over batches and over none', async () => {
    expect(await fileOf([])).toBe('\ufeffnumber,given_name\r\n');
    expect(await fileOf([[['1', 'a']], [], [['2', 'b']]])).toBe('\ufeffnumber,given_name\r\n1,a\r\n2,b\r\n');
  });
});
