import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sampleOf } from '../../../server/visit/folder.ts';
import { sectionHours, studentHours } from '../../../server/visit/hours.ts';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { chance } from '../../support/chance.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { givenShopItem, givenSignOff } from '../../support/given-shop-work.ts';
import { sessionFor } from '../../support/session.ts';
import { ONE_RUN, ruleInForce } from '../support/rule-in-force.ts';

describe('what a visit asks for', () => {
  let built: TestApp;
  let coordinator: Agent;
  beforeAll(async () => {
    built = await testApp();
    const { store } = built;
    const shopItem = await givenShopItem(store);
    await ruleInForce(store, 2, ONE_RUN, '2026-09-01T00:00:00.000Z', [3, shopItem]);
    const about = { signInName: '003201', sectionId: 1 };
    await givenAttempt(store, {
      ...about,
      id: 'the-run',
      itemId: 3,
      seed: 'visit-1',
      at: '2026-09-10T10:00:00.000Z',
    });
    for (const [index, day] of ['2026-09-03', '2026-09-11'].entries())
      await givenSignOff(store, {
        ...about,
        id: `signed-${index}`,
        itemId: shopItem,
        at: `${day}T10:00:00.000Z`,
      });
    await store.db
      .insertInto('shop_gauge_checks')
      .values({
        ...{ gauge_id: 1, checked_on: '2025-09-01', passed: 1, due_on: '2026-09-01', note: '', noted_by: 1 },
        at: '2025-09-01T10:00:00.000Z',
      })
      .execute();
    coordinator = await sessionFor(built, 'vossberg');
  });
  afterAll(() => built.close());

  const text = async () =>
    (await coordinator.get('/visit')).body
      .replaceAll(/<[^>]+>/g, ' ')
      .replaceAll(/\s+/g, ' ')
      .trim();

  it('says where each competency is taught, practised and assessed, and what gauge is overdue', async () => {
    const page = await text();
    expect(page).toMatch(/IC-LIFT .* Practice engine A: graded run \([^)]*\) On the shop engine \(/);
    expect(page).toContain('1 Sept 2026 overdue: warns');
    expect(page).toContain('never — overdue: warns');
  });

  it('says who may sign on what ground, and what was signed on a day without one', async () => {
    expect(await text()).toContain('2 on days without an entry');
    const entry = { person: '2', basis: 'Certificate 4711', fromOn: '2026-09-05', untilOn: '' };
    const refused = await coordinator.post('/visit/assessors', { ...entry, untilOn: '2026-09-01' });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('The last day comes before the first.');
    expect(refused.body).toContain('value="Certificate 4711"');
    // A student is no assessor.
    expect((await coordinator.post('/visit/assessors', { ...entry, person: '4' })).statusCode).toBe(422);
    expect((await coordinator.post('/visit/assessors', entry)).statusCode).toBe(303);
    expect(await text()).toContain('1 on days without an entry');
    expect((await coordinator.get('/audit?kind=assessor')).body).toContain('Certificate 4711');
    const file = await coordinator.post('/exports', {
      ...{ form: 'evidence', competencies: '', people: '', asOf: '', recipient: 'x', purpose: 'y' },
    });
    const lines = file.body.split('\r\n').filter((line) => line.includes('shop engine'));
    expect(lines.map((line) => line.includes('"instructor, Certificate 4711"'))).toEqual([false, true]);
  });

  it('counts hours from action to action, without gaps over three minutes', async () => {
    const { db } = built.store;
    const draw = chance(7);
    const rows = await db
      .selectFrom('attempt_actions')
      .where('attempt_id', '=', 'the-run')
      .select('seq')
      .orderBy('seq')
      .execute();
    // The log keeps what was written; the clock of a copy is set here, from outside.
    built.store.raw.exec('DROP TRIGGER IF EXISTS attempt_actions_keep_update');
    let now = Date.parse('2026-09-10T09:00:00.000Z');
    let naive = 0;
    for (const [index, { seq }] of rows.entries()) {
      const gap = draw.whole(0, 300_000);
      if (index > 0 && gap <= 180_000) naive += gap;
      now += gap;
      built.store.raw
        .prepare('UPDATE attempt_actions SET at = ? WHERE attempt_id = ? AND seq = ?')
        .run(new Date(now).toISOString(), 'the-run', seq);
    }
    expect(naive).toBeGreaterThan(60_000);
    const hours = await studentHours(db, 4, '2027-01-01');
    expect(hours).toBeCloseTo(naive / 3_600_000, 5);
    const [section] = (await sectionHours(db)).filter(({ id }) => id === 1);
    expect(section?.hours).toBeCloseTo(naive / 3_600_000, 5);
  });

  it('draws students at random, the same word the same ones, each as likely as another', () => {
    const all = Array.from({ length: 20 }, (_, index) => ({ uuid: `uuid-${index}` }));
    expect(sampleOf(all, 5, 'Tuesday')).toEqual(sampleOf([...all].reverse(), 5, 'Tuesday'));
    expect(sampleOf(all, 50, 'Tuesday')).toHaveLength(20);
    const drawn = new Map<string, number>();
    for (let word = 0; word < 4000; word += 1)
      for (const { uuid } of sampleOf(all, 5, `word ${word}`)) drawn.set(uuid, (drawn.get(uuid) ?? 0) + 1);
    // 4000 draws of 5 in 20: 1000 each, with a standard deviation of 27.
    for (const times of drawn.values()) expect(Math.abs(times - 1000)).toBeLessThan(27.4 * 5);
  });

  it('makes a folder with a PDF a student, and writes it down', async () => {
    const wanted = {
      section: '1',
      count: '2',
      word: 'Tuesday',
      recipient: 'Visiting team',
      purpose: 'accreditation',
    };
    expect((await coordinator.post('/visit/folder', { ...wanted, count: '0' })).statusCode).toBe(422);
    expect((await coordinator.post('/visit/folder', { ...wanted, section: '99' })).statusCode).toBe(422);
    const { statusCode, headers, rawPayload } = await coordinator.post('/visit/folder', wanted);
    expect(statusCode).toBe(200);
    expect(headers['content-type']).toBe('application/zip');
    expect(rawPayload.toString('latin1').match(/0032\d\d\.pdf/g)?.length).toBeGreaterThanOrEqual(2);
    const { body } = await coordinator.get('/audit?q=folder+tuesday');
    expect(body).toContain('Folder for a visit: 2 of 3 students');
    const about = await built.store.db.selectFrom('export_students').selectAll().execute();
    expect(about.length).toBeGreaterThanOrEqual(2);
  });

  it('keeps what was changed after poor results', async () => {
    expect((await coordinator.post('/visit/improvements', { found: '', changed: 'x' })).statusCode).toBe(422);
    const note = { found: 'Turns not counted: 40 % of runs', changed: 'Two more rounds of drills.' };
    await coordinator.post('/visit/improvements', note);
    expect(await text()).toContain('Turns not counted: 40 % of runs Two more rounds of drills.');
  });
});
