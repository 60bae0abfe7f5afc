import type { Agent } from '../../support/agent.ts';
import { demoPassword } from '../../support/agent.ts';
import type { TestApp } from '../../support/build.ts';
import { writeSheet } from '../teaching/sheet-form.ts';

/** A shop with an engine whose six lobes have references of 0.214 in, a gauge and a wrench in date, and a sheet with work on it assigned to section 1. */
export async function givenShop(
  agent: Agent,
  settings: Readonly<Record<string, string>> = {},
): Promise<number> {
  await agent.post('/shop/engines', {
    ...{ name: 'Inline six, left stand', number: 'E2', pumps: '6', firingOrder: '1-5-3-6-2-4' },
    ...{
      barring: 'clockwise seen from the front',
      unit: 'in',
      nominal: '0.214',
      lower: '0.210',
      upper: '0.218',
    },
    ...{ source: 'Shop manual, page 31', torques: 'pump bolts: 35 lbf·ft' },
  });
  await agent.post('/shop/gauges', {
    ...{
      kind: 'indicator',
      number: 'G7',
      what: '0 to 1 in',
      graduation: '0.001',
      unit: 'in',
      whenOverdue: 'block',
    },
  });
  await agent.post('/shop/gauges', {
    kind: 'torque-wrench',
    number: 'W3',
    what: '10 to 100 lbf·ft',
    whenOverdue: 'warn',
  });
  for (const id of [1, 2])
    await agent.post(`/shop/gauges/${id}/checks`, {
      checkedOn: '2026-01-10',
      dueOn: '2027-01-10',
      passed: 'yes',
      note: '',
    });
  for (const position of ['1', '2', '3', '4', '5', '6'])
    await agent.post('/shop/engines/1/references', {
      position,
      first: '0.2138',
      second: '0.214',
      third: '0.2142',
      gauge: '1',
    });
  const sheet = await writeSheet(agent, 'In the shop', ['shop-engine'], { 'i0-share': '100', ...settings });
  await agent.post(`/lab-sheets/${sheet}/assign`, { 'section-1': 'on', counts: 'best' });
  return sheet;
}

/** Sets the PIN somebody signs with. */
export async function setPin(agent: Agent, signInName: string, pin: string): Promise<void> {
  const answer = await agent.post('/pin', { pin, password: demoPassword(signInName) });
  if (answer.statusCode !== 303) throw new Error(`the PIN was not set: ${answer.statusCode}`);
}

/** Begins a sign-off and answers with its id. */
export async function begin(
  { store }: TestApp,
  agent: Agent,
  studentId: string,
  more: Readonly<Record<string, string>> = {},
): Promise<string> {
  const item = await store.db
    .selectFrom('lab_sheet_items')
    .where('kind', '=', 'shop-engine')
    .where('removed_at', 'is', null)
    .select('id')
    .executeTakeFirstOrThrow();
  const answer = await agent.post('/sections/1/sign-offs', {
    ...{ studentId, itemId: String(item.id), engineId: '1', gaugeId: '1', wrenchId: '2', ...more },
  });
  const id = /sign-offs\/([\w-]+)$/.exec(String(answer.headers.location))?.[1];
  if (id === undefined) throw new Error(`no sign-off was begun: ${answer.statusCode}`);
  return id;
}
