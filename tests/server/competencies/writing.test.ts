import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { sessionFor } from '../../support/session.ts';

const USUAL = {
  ...{ code: 'CYL-BORE', title: 'Measures a cylinder bore', course: 'Engine block', statement: '' },
  ...{ runs: '2', percent: '80', engines: '2', days: '2', badParts: '1', setUpFaults: '0', signOffs: '1' },
  ...{ inARow: 'on', noStops: 'on', holds: 'months', months: '12', 'item-3': 'on' },
};

describe('writing a competency', () => {
  let built: TestApp;
  let coordinator: Agent;
  beforeAll(async () => {
    built = await testApp();
    coordinator = await sessionFor(built, 'vossberg');
  });
  afterAll(() => built.close());
  const rules = () =>
    built.store.db
      .selectFrom('evidence_rules')
      .selectAll()
      .where('competency_id', '=', 2)
      .orderBy('version')
      .execute();

  it('begins with the usual rule in the boxes', async () => {
    const { body } = await coordinator.get('/competencies/new');
    for (const [name, value] of [
      ['runs', '2'],
      ['percent', '80'],
      ['engines', '2'],
      ['signOffs', '1'],
    ])
      expect(body).toMatch(new RegExp(`name="${name}"[^>]*value="${value}"`));
    expect(body).toMatch(/name="inARow"[^>]*checked/);
  });

  it.each([
    ['code', { code: '' }, 'Write a short code, such as IC-LIFT.'],
    ['code', { code: 'has blank' }, 'Use letters, digits, dots and hyphens only.'],
    ['code', { code: 'IC-LIFT' }, 'Another competency has this code.'],
    ['percent', { percent: '101' }, 'Write a share of the points, 0 to 100.'],
    ['runs', { runs: '21' }, 'Write how many graded runs, 0 to 20.'],
    ['runs', { runs: '0', engines: '', days: '', badParts: '', signOffs: '' }, 'A rule asks for a run'],
    ['engines', { engines: '3' }, 'This asks for more than there are runs.'],
    ['months', { months: '' }, 'Write how many months, 1 to 120.'],
    ['holds', { holds: 'ever' }, 'Choose for how long.'],
  ])('says what is wrong beside %s and keeps what was typed', async (field, typed, sentence) => {
    const { statusCode, body } = await coordinator.post('/competencies', { ...USUAL, ...typed });
    expect(statusCode).toBe(422);
    expect(body).toContain(sentence);
    expect(body).toContain(`id="f-${field}-problem"`);
    expect(body).toContain('value="Measures a cylinder bore"');
    expect(body).toMatch(/name="item-3"[^>]*checked/);
    expect(await rules()).toEqual([]);
  });

  it('is kept with its own identifier and its rule, in force from then on', async () => {
    expect((await coordinator.post('/competencies', USUAL)).headers.location).toBe(
      '/competencies/2?said=competency-kept',
    );
    const page = (await coordinator.get('/competencies/2')).body;
    expect(page).toMatch(/[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}/);
    expect(page).toContain(
      '2 graded runs in a row, each at 80 % of the points or more, without a stop, without help, on 2 different engines, on 2 different days, one of them with a part outside its limits; and one sign-off on a shop engine, passed. Held for 12 months; then it is met anew.',
    );
    const [rule] = await rules();
    expect(rule).toMatchObject({ version: 1, in_force_from: '2026-09-14T08:00:00.000Z', items: '[3]' });
    expect(rule?.made_by).toBe(1);
  });

  it('appends a version of the rule only when the rule or what counts is another', async () => {
    const seen = async () =>
      /name="seen" value="([^"]*)"/.exec((await coordinator.get('/competencies/2/edit')).body)?.[1] ?? '';
    const change = async (more: Record<string, string>) =>
      coordinator.post('/competencies/2/edit', { ...USUAL, seen: await seen(), ...more });
    built.clock.moveHours(0.1);
    expect((await change({ title: 'Measures a bore' })).statusCode).toBe(303);
    expect(await rules()).toHaveLength(1);
    expect(
      (await change({ title: 'Measures a bore', 'item-5': 'on', reason: 'Metric too.' })).statusCode,
    ).toBe(303);
    expect((await rules()).map(({ version, items, reason }) => ({ version, items, reason }))).toEqual([
      { version: 1, items: '[3]', reason: '' },
      { version: 2, items: '[3,5]', reason: 'Metric too.' },
    ]);
    const words = await built.store.db.selectFrom('competency_versions').selectAll().execute();
    expect(words.filter(({ competency_id }) => competency_id === 2).map(({ version }) => version)).toEqual([
      1, 2,
    ]);
    const late = await coordinator.post('/competencies/2/edit', { ...USUAL, seen: '1.1' });
    expect(late.statusCode).toBe(422);
    expect(late.body).toContain('Somebody changed this while it was open.');
  });

  it('is retired and taken into use again; the matrix shows it only while it is in use', async () => {
    expect((await coordinator.get('/matrix')).body).toContain('CYL-BORE');
    await coordinator.post('/competencies/2/retire');
    expect((await coordinator.get('/matrix')).body).not.toContain('CYL-BORE');
    expect((await coordinator.get('/competencies/2')).statusCode).toBe(200);
    await coordinator.post('/competencies/2/retire');
    expect((await coordinator.get('/matrix')).body).toContain('CYL-BORE');
  });
});

describe("a coordinator's word", () => {
  it('stands in the record with its reason, and the newest counts', async () => {
    const built = await testApp();
    const coordinator = await sessionFor(built, 'vossberg');
    const path = '/competencies/1/people/4';
    const nothing = await coordinator.post(path, { word: 'granted', reason: ' ' });
    expect(nothing.statusCode).toBe(422);
    expect(nothing.body).toContain('Write the reason. It stands in the record.');
    await coordinator.post(path, { word: 'granted', reason: 'Certified elsewhere in 2024.' });
    expect((await coordinator.get(path)).body).toMatch(/standing-granted">holds it by word/);
    expect((await coordinator.get('/matrix')).body).toMatch(
      /standing-granted">holds it by word[\s\S]*Okereke, Tam/,
    );
    built.clock.moveHours(0.1);
    await coordinator.post(path, { word: 'revoked', reason: 'The paper was another’s.' });
    const { body } = await coordinator.get(path);
    expect(body).toMatch(/standing-revoked">revoked/);
    expect(body).toContain('Certified elsewhere in 2024.');
    expect((await coordinator.get(`${path}?asOf=2026-09-13`)).body).toContain('standing-none');
    await built.close();
  });
});
