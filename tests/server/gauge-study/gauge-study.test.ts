import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { orderOf } from '../../../server/gauge-study/plan.ts';
import { fromRoot } from '../../../server/root.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { fieldsOn, problemsOn } from '../teaching/sheet-form.ts';

const published = (name: string) => readFileSync(fromRoot('tests', 'published', 'gauge-study', name), 'utf8');
const BASE = { title: 'Lift of E2', unit: 'mm', graduation: '0.01', repeats: '2' };

describe('a gauge study', () => {
  let built: TestApp;
  let agent: Agent;
  beforeEach(async () => {
    built = await testApp();
    agent = await signIn(built.app, 'marchbanks');
  });
  afterEach(() => built.close());

  const make = (more: Readonly<Record<string, string>>) =>
    agent.post('/sections/1/gauge-studies', { ...BASE, ...more });
  const at = (answer: { headers: Record<string, unknown> }) => String(answer.headers.location);
  /** The cells of a row, by its heading. */
  const row = (html: string, name: string) => {
    const found =
      new RegExp(`<th scope="row">${name.replace(/[()]/g, '\\$&')}</th>(.*?)</tr>`, 's').exec(html)?.[1] ??
      '';
    return [...found.matchAll(/<td[^>]*>([^<]*)</g)].map(([, text]) => text ?? '');
  };

  // Source: AIAG, Measurement Systems Analysis, 4th edition, 10 × 3 × 3. Its own figures; it rounds as it goes along, so that the last
  // figures of averages and ranges may differ by five in the fifth decimal.
  it('from the published example’s CSV gives its figures in both methods', async () => {
    const made = await make({ csv: published('aiag-msa-10x3x3.csv'), tolerance: '8' });
    const { body } = await agent.get(at(made));
    const expected = {
      'Same person again (EV)': { anova: 0.19993, percent: '18.42', ranges: 0.20188, ofRanges: 17.62 },
      'Between people (AV)': { anova: 0.22684, percent: '20.90', ranges: 0.22963, ofRanges: 20.04 },
      'Both together (GRR)': { anova: 0.30237, percent: '27.86', ranges: 0.30575, ofRanges: 26.68 },
      'Between parts (PV)': { anova: 1.0423, percent: '96.04', ranges: 1.10456, ofRanges: 96.38 },
      'All together (TV)': { anova: 1.0853, percent: '100.00', ranges: 1.1461, ofRanges: 100 },
    };
    for (const [name, one] of Object.entries(expected)) {
      const [sd, spread, percent, ofTolerance, rangeSd, , rangePercent] = row(body, name);
      expect(Number(sd), name).toBeCloseTo(one.anova, one.anova > 1 ? 4 : 5);
      expect(percent, name).toBe(one.percent);
      expect(Math.abs(Number(rangeSd) - one.ranges), name).toBeLessThan(0.00006);
      expect(Math.abs(Number(rangePercent) - one.ofRanges), name).toBeLessThan(0.011);
      expect(Number(spread), name).toBeCloseTo(6 * Number(sd), 3);
      expect(Number(ofTolerance), name).toBeCloseTo((100 * Number(spread)) / 8, 1);
    }
    expect(row(body, 'Groups told apart (ndc)')).toEqual(['4', '5']);
    expect(row(body, 'Parts').slice(0, 2)).toEqual(['9', '88.36193']);
    expect(row(body, 'People').slice(0, 2)).toEqual(['2', '3.167262']);
    expect(body).toContain('as its p is 0.974');
    // The one cell outside the limit of ranges there.
    expect(body).toContain('B on 4 (');
    expect(body).toContain('It tells only 4 groups of these parts apart');
  });

  it('says in hundredths what two standard deviations are', async () => {
    const { body } = await agent.get(at(await make({ csv: published('aiag-msa-10x3x3.csv') })));
    // 2 × 0.19993 mm is 40 hundredths; 2 × 0.30237 is 60.
    expect(body).toContain('The same person on the same part again: within ± 40 hundredths of a millimetre');
    expect(body).toContain('Anybody’s reading: within ± 60 hundredths of a millimetre');
  });

  it('gives its readings back as they came', async () => {
    const csv = published('montgomery-20x3x2.csv');
    const where = at(await make({ csv }));
    const out = await agent.post(`${where}/export`);
    const rows = (text: string) =>
      (parse(text, { bom: true, columns: true }) as Record<string, string>[]).map((one) =>
        Object.values(one).map(Number),
      );
    expect(rows(out.body)).toEqual(rows(csv));
    expect(await built.store.db.selectFrom('exports').select('rows').execute()).toEqual([{ rows: 120 }]);
  });

  it('is planned on an engine of the shop, measured sheet by sheet, and reported when all is in', async () => {
    await agent.post('/shop/engines', {
      ...{
        name: 'Four',
        number: 'E4',
        pumps: '4',
        barring: 'clockwise',
        unit: 'in',
        lower: '0.2',
        source: 'Manual',
      },
    });
    const where = at(
      await make({
        unit: 'in',
        graduation: '0.001',
        engine: '1',
        'student-4': 'on',
        others: 'Rosalind Achterberg\n',
      }),
    );
    const page = await agent.get(where);
    expect(page.body).toContain('The report comes when every part has been measured');
    const truth = [0.2, 0.21, 0.22, 0.23];
    for (const [person, repeat, off] of [
      [1, 1, 0],
      [1, 2, 0.001],
      [2, 1, 0.002],
      [2, 2, 0.001],
    ] as const) {
      const sheet = `${where}/sheets/${person}/${repeat}`;
      const bad = await agent.post(sheet, { 'part-0': 'many' });
      expect(problemsOn(bad.body)).toBe('Write a length in in, or leave it blank.');
      await agent.post(
        sheet,
        Object.fromEntries(truth.map((lift, part) => [`part-${part}`, String(lift + off)])),
      );
    }
    const { body } = await agent.get(where);
    expect(body).toContain('What it says');
    // By hand: the repeats differ by 0.001 in all 8 cells, so that the squares are 8 × 0.001²/2; there is no interaction, whose 3 degrees of
    // freedom join the 8: s = √(4e-6/11) = 0.000603, and two of them 1.2 thousandths.
    expect(body).toContain('The same person on the same part again: within ± 1.2 thousandths');
    await agent.post(`${where}/sheets/1/1`, { 'part-1': '0.21', 'part-2': '0.22', 'part-3': '0.23' });
    expect((await agent.get(where)).body).toContain('1 missing');
    expect(() => built.store.raw.exec('DELETE FROM gauge_study_readings')).toThrow(/only ever added to/);
  });

  it('hands its sheets out in an order of its own for each person and round', async () => {
    const orders = [0, 1, 2].flatMap((person) =>
      [0, 1, 2].map((repeat) => orderOf('a seed', 10, person, repeat)),
    );
    for (const order of orders)
      expect([...order].sort((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(new Set(orders.map(String)).size).toBe(9);
    expect(orderOf('a seed', 10, 0, 0)).toEqual(orders[0]);
    const where = at(await make({ parts: 'one\ntwo\nthree', others: 'Ann\nBea' }));
    const sheets = await agent.get(`${where}/sheets`);
    expect(sheets.body.match(/class="study-sheet"/g)).toHaveLength(4);
    const first = fieldsOn((await agent.get(`${where}/sheets/1/1`)).body);
    expect(
      Object.keys(first)
        .filter((name) => name.startsWith('part-'))
        .sort(),
    ).toEqual(['part-0', 'part-1', 'part-2']);
  });

  it.each([
    ['no headings', '1,A,1,0.2\n', /The headings part, appraiser, trial and value/],
    ['a value that is none', 'part,appraiser,trial,value\n1,A,1,0.2\n1,A,2,many\n', /The value is no number/],
    ['a cell twice', 'part,appraiser,trial,value\n1,A,1,0.2\n1,A,1,0.3\n', /are there already/],
    [
      'a cell missing',
      'part,appraiser,trial,value\n1,A,1,1\n1,A,2,1\n2,A,1,1\n2,A,2,1\n1,B,1,1\n1,B,2,1\n2,B,1,1\n',
      /Trial 2 of part 2 by B is missing/,
    ],
    ['one person', 'part,appraiser,trial,value\n1,A,1,1\n1,A,2,1\n2,A,1,1\n2,A,2,1\n', /There are 1 people/],
    ['a quotation mark left open', 'part,appraiser,trial,value\n"1,A,1,1\n', /opened and not closed/],
    ['too many fields', 'part,appraiser,trial,value\n1,A,1,1,9\n', /5 fields and 4 headings/],
    ['headings alone', 'part,appraiser,trial,value\n', /no readings below them/],
  ])('refuses a CSV with %s, and makes nothing', async (_, csv, said) => {
    const answer = await make({ csv });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toMatch(said);
    expect(fieldsOn(answer.body).title).toBe('Lift of E2');
    expect(await built.store.db.selectFrom('gauge_studies').selectAll().execute()).toEqual([]);
  });

  it.each([
    ['title', { title: '' }, 'Write what is studied'],
    ['graduation', { graduation: '0' }, 'Write what one mark is worth'],
    ['tolerance', { tolerance: '-1' }, 'Write the width of the tolerance'],
    ['repeats', { repeats: '1' }, 'Write a whole number from 2 to 10.'],
    ['parts', { parts: 'one' }, 'Name 2 to 30 parts'],
    ['people', { others: 'Ann\nAnn' }, 'A name is there twice.'],
  ])('says beside %s what a plan lacks', async (_, wrong, said) => {
    const answer = await make({ parts: 'one\ntwo', others: 'Ann\nBea', ...wrong });
    expect(problemsOn(answer.body)).toContain(said);
  });
});
