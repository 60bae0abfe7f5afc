import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { getEngine, listReferences } from '../../../server/shop/index.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { fieldsOn, problemsOn } from '../teaching/sheet-form.ts';

const ENGINE = {
  ...{ name: 'Inline six, left stand', number: 'E2', pumps: '6', firingOrder: '1-5-3-6-2-4' },
  ...{ barring: 'clockwise seen from the front', unit: 'in', nominal: '0.214', lower: '0.210', upper: '' },
  ...{ source: 'Shop manual, page 31', torques: 'pump bolts: 35 lbf·ft\nline nuts = 27,1 Nm' },
};

describe('the shop', () => {
  let built: TestApp;
  let agent: Agent;
  beforeEach(async () => {
    built = await testApp();
    agent = await signIn(built.app, 'marchbanks');
  });
  afterEach(() => built.close());

  it('has engines with their specifications, one side open, each version kept', async () => {
    expect((await agent.post('/shop/engines', ENGINE)).headers.location).toBe(
      '/shop/engines/1?said=engine-kept',
    );
    expect(await getEngine(built.store.db, 1)).toMatchObject({
      ...{ pumps: 6, firingOrder: [1, 5, 3, 6, 2, 4], lower: 0.21, upper: null, version: 1 },
      torques: [
        { what: 'pump bolts', value: 35, unit: 'lbf·ft' },
        { what: 'line nuts', value: 27.1, unit: 'N·m' },
      ],
    });
    // A length in the other unit is taken as it is written.
    await agent.post('/shop/engines/1', {
      ...fieldsOn((await agent.get('/shop/engines/1')).body),
      ...ENGINE,
      upper: '5.588 mm',
    });
    expect(await getEngine(built.store.db, 1)).toMatchObject({ upper: 0.22, version: 2 });
    expect((await agent.get('/shop/engines/1')).body).toContain('0.22 in (5.588 mm)');
    expect(() => built.store.raw.exec('DELETE FROM shop_engine_versions')).toThrow(/only ever added to/);
  });

  it.each([
    ['pumps', { pumps: '0' }, 'Write a whole number from 1 to 16.'],
    ['firingOrder', { firingOrder: '1-5-3-6-2-2' }, 'Name each cylinder from 1 to 6 once'],
    ['lower', { lower: '', upper: '' }, 'Write at least one limit.'],
    ['upper', { upper: '0.2' }, 'The upper limit must lie above the lower one.'],
    ['nominal', { nominal: 'two' }, 'Write a length in inches'],
    ['source', { source: '' }, 'Write the manual and its page.'],
    ['torques', { torques: 'tight enough' }, 'Line 1 is not like'],
  ])('says beside %s what is wrong, and keeps what was typed', async (field, wrong, said) => {
    const answer = await agent.post('/shop/engines', { ...ENGINE, ...wrong });
    expect(answer.statusCode).toBe(422);
    expect(problemsOn(answer.body)).toContain(said);
    expect(answer.body).toMatch(new RegExp(`name="${field}"[^>]*aria-invalid="true"`));
    expect(fieldsOn(answer.body)).toMatchObject(wrong);
    expect(await built.store.db.selectFrom('shop_engines').selectAll().execute()).toEqual([]);
  });

  it('does not let two engines go by one number', async () => {
    await agent.post('/shop/engines', ENGINE);
    expect(problemsOn((await agent.post('/shop/engines', { ...ENGINE, name: 'Another' })).body)).toContain(
      'goes by that number',
    );
  });

  it('has references that lapse when the engine is worked on', async () => {
    await agent.post('/shop/engines', ENGINE);
    const lobe = async () => {
      const engine = await getEngine(built.store.db, 1);
      return (await listReferences(built.store.db, engine, built.clock().toISOString()))[3];
    };
    expect((await lobe())?.state).toBe('none');
    const readings = { position: '4', first: '0.213', second: '0.214', third: '0.215' };
    expect((await agent.post('/shop/engines/1/references', { ...readings, second: '' })).statusCode).toBe(
      422,
    );
    await agent.post('/shop/engines/1/references', readings);
    expect(await lobe()).toMatchObject({
      position: 4,
      state: 'holds',
      reference: { mean: expect.closeTo(0.214, 9) },
    });
    await agent.post('/shop/engines/1/work', { what: 'camshaft changed' });
    expect((await lobe())?.state).toBe('worked-on');
  });

  it('has gauges whose checks warn or block', async () => {
    const gauge = {
      kind: 'indicator',
      number: 'G7',
      what: '0 to 1 in',
      graduation: '0.001',
      unit: 'in',
      whenOverdue: 'block',
    };
    await agent.post('/shop/gauges', gauge);
    expect((await agent.get('/shop')).body).toContain('No check of it is written down.');
    await agent.post('/shop/engines', ENGINE);
    const readings = { position: '1', first: '0.213', second: '0.214', third: '0.215', gauge: '1' };
    expect(problemsOn((await agent.post('/shop/engines/1/references', readings)).body)).toContain(
      'Take another gauge.',
    );
    const check = { checkedOn: '2026-09-01', dueOn: '2026-09-01', passed: 'yes', note: '' };
    expect(problemsOn((await agent.post('/shop/gauges/1/checks', check)).body)).toBe(
      'The next check lies after this one.',
    );
    await agent.post('/shop/gauges/1/checks', { ...check, dueOn: '2027-09-01' });
    expect((await agent.post('/shop/engines/1/references', readings)).statusCode).toBe(303);
    expect(problemsOn((await agent.post('/shop/gauges', gauge)).body)).toContain('goes by that number');
  });
});
