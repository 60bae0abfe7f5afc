import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { getSignOff } from '../../../server/sign-offs/queries.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { fieldsOn, problemsOn } from '../teaching/sheet-form.ts';
import { begin, givenShop, setPin } from './lab.ts';

const READING = {
  ...{ high: '0.2145', back: '0.000', second: '0.214', lift: '0.2145', verdict: 'inside' },
  ...{ followUp: 'return-to-service', reason: 'within limits', torques: '35 lbf·ft' },
};
const AT = '2026-09-14T08:00:00.000Z';

describe('a sign-off at a shop engine', () => {
  let built: TestApp;
  let marchbanks: Agent;
  let student: Agent;
  beforeEach(async () => {
    built = await testApp();
    marchbanks = await signIn(built.app, 'marchbanks');
    student = await signIn(built.app, '003201');
    await givenShop(marchbanks);
    await setPin(marchbanks, 'marchbanks', '2468');
    await setPin(student, '003201', '1357');
  });
  afterEach(() => built.close());

  const entry = (n: number, more: object) => ({ clientId: `client-${n}`, madeAt: AT, ...more });
  const ticks = (count: number, over: Readonly<Record<number, string>> = {}) =>
    Array.from({ length: count }, (_, step) =>
      entry(step, { kind: 'tick', step, state: over[step] ?? 'alone', note: '' }),
    );
  const send = (id: string, entries: readonly object[]) =>
    marchbanks.postJson(`/sections/1/sign-offs/${id}/entries`, { entries });
  const look = (id: string) => getSignOff(built.store.db, id);

  it('is ticked, read, signed by both and passed; the reference is never on a student’s page', async () => {
    const id = await begin(built, marchbanks, '4', { barredBy: '5' });
    const { steps, position, reference } = await look(id);
    expect(steps).toHaveLength(25);
    expect(position).toBeGreaterThanOrEqual(1);
    expect(reference?.mean).toBeCloseTo(0.214, 9);
    await send(id, [...ticks(25), entry(90, { kind: 'reading', typed: READING })]);
    expect((await look(id)).outcome).toMatchObject({ passed: true, against: [] });
    const early = await send(id, [entry(91, { kind: 'signature', role: 'assessor', pin: '2468' })]);
    expect(early.json().error.message).toBe('The student signs first, then the assessor.');
    await send(id, [entry(92, { kind: 'signature', role: 'student', pin: '1357' })]);
    await send(id, [entry(93, { kind: 'signature', role: 'assessor', pin: '2468' })]);
    expect((await look(id)).signed).toMatchObject({ passed: true });
    const own = await student.get(`/sign-offs/${id}`);
    expect(own.body).toContain('Passed');
    for (const told of ['0.2140', '0.2138', '0.2142', 'eference 0']) expect(own.body).not.toContain(told);
    const late = await send(id, [entry(94, { kind: 'tick', step: 3, state: 'not-done', note: '' })]);
    expect(late.statusCode).toBe(409);
    expect(() => built.store.raw.exec('DELETE FROM sign_off_signatures')).toThrow(/only ever added to/);
  });

  it('keeps once what arrives twice, with the clock of the phone beside its own', async () => {
    const id = await begin(built, marchbanks, '4');
    await send(id, ticks(3));
    await send(id, [
      ...ticks(3),
      entry(7, { kind: 'tick', step: 0, state: 'with-prompt', note: 'told twice' }),
    ]);
    const rows = await built.store.db.selectFrom('sign_off_ticks').selectAll().execute();
    expect(rows).toHaveLength(4);
    expect(rows[0]).toMatchObject({ made_at: AT, arrived_at: built.clock().toISOString() });
    expect((await look(id)).steps[0]).toMatchObject({ state: 'with-prompt', note: 'told twice' });
  });

  it('is not passed for a turn not counted, and says so to the student without the reference', async () => {
    const id = await begin(built, marchbanks, '4');
    await send(id, [...ticks(25), entry(90, { kind: 'reading', typed: { ...READING, lift: '0.114' } })]);
    await send(id, [entry(91, { kind: 'signature', role: 'student', pin: '1357' })]);
    await send(id, [entry(92, { kind: 'signature', role: 'assessor', pin: '2468' })]);
    expect((await look(id)).signed).toMatchObject({ passed: false, against: [{ stop: true }] });
    const own = await student.get(`/sign-offs/${id}`);
    expect(own.body).toContain('one turn of the pointer was not counted');
    expect(own.body).not.toContain('0.2140');
  });

  it('lets the student say they are ready at a hold point, the oldest first in the queue, until it is ticked', async () => {
    const id = await begin(built, marchbanks, '4');
    await student.post(`/sign-offs/${id}/marks`, { step: '0', state: 'done' });
    await student.post(`/sign-offs/${id}/marks`, { step: '1', state: 'ready' });
    built.clock.moveHours(0.05);
    const lab = await marchbanks.get('/sections/1/sign-offs');
    expect(lab.body).toMatch(/Engine E2 · position \d · step 2 · waiting \d+ min/);
    await send(id, [entry(1, { kind: 'tick', step: 1, state: 'alone', note: '' })]);
    expect((await marchbanks.get('/sections/1/sign-offs')).body).not.toContain('waiting');
  });

  it('draws another position than those signed off before', async () => {
    const seen = new Set<number>();
    for (let n = 0; n < 6; n += 1) {
      const id = await begin(built, marchbanks, '4');
      seen.add((await look(id)).position);
      await send(id, [entry(91, { kind: 'signature', role: 'student', pin: '1357' })]);
      await send(id, [entry(92, { kind: 'signature', role: 'assessor', pin: '2468' })]);
    }
    expect([...seen].sort()).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it('says beside the field what a beginning lacks, and refuses a gauge that may not be used', async () => {
    const bare = await marchbanks.post('/sections/1/sign-offs', {});
    expect(problemsOn(bare.body)).toBe('Choose who reads. / Choose what is signed off. / Choose the engine.');
    await marchbanks.post('/shop/gauges/1/checks', {
      checkedOn: '2026-09-01',
      dueOn: '2026-09-02',
      passed: 'yes',
      note: '',
    });
    const form = {
      ...fieldsOn((await marchbanks.get('/sections/1/sign-offs')).body),
      studentId: '4',
      gaugeId: '1',
    };
    expect(problemsOn((await marchbanks.post('/sections/1/sign-offs', form)).body)).toBe(
      'Its check was due on 2026-09-02. Take another.',
    );
    expect(
      problemsOn(
        (await marchbanks.post('/sections/1/sign-offs', { ...form, gaugeId: '', barredBy: '4' })).body,
      ),
    ).toBe('Somebody else bars while the student reads.');
    await begin(built, marchbanks, '4', { gaugeId: '' });
    expect(
      problemsOn((await marchbanks.post('/sections/1/sign-offs', { ...form, gaugeId: '' })).body),
    ).toContain('has a sign-off open');
  });

  it('takes the whole page with one button where no script runs', async () => {
    const id = await begin(built, marchbanks, '4');
    const page = await marchbanks.get(`/sections/1/sign-offs/${id}`);
    const all = Object.fromEntries(Array.from({ length: 25 }, (_, step) => [`s${step}`, 'alone']));
    const bad = await marchbanks.post(`/sections/1/sign-offs/${id}/keep`, {
      ...fieldsOn(page.body),
      ...all,
      ...READING,
      high: 'many',
    });
    expect(bad.statusCode).toBe(422);
    expect(fieldsOn(bad.body).high).toBe('many');
    await marchbanks.post(`/sections/1/sign-offs/${id}/keep`, { ...fieldsOn(page.body), ...all, ...READING });
    const wrong = await marchbanks.post(`/sections/1/sign-offs/${id}/sign`, { role: 'student', pin: '9999' });
    expect(problemsOn(wrong.body)).toBe('This is not the PIN of Tamsin Okereke. Type it again.');
    await marchbanks.post(`/sections/1/sign-offs/${id}/sign`, { role: 'student', pin: '1357' });
    await marchbanks.post(`/sections/1/sign-offs/${id}/sign`, { role: 'assessor', pin: '2468' });
    expect((await look(id)).signed).toMatchObject({ passed: true });
  });

  it('locks a PIN after five misses', async () => {
    const id = await begin(built, marchbanks, '4');
    const tryPin = async (pin: string) =>
      problemsOn((await marchbanks.post(`/sections/1/sign-offs/${id}/sign`, { role: 'student', pin })).body);
    for (let n = 0; n < 5; n += 1) expect(await tryPin('0000')).toContain('This is not the PIN');
    expect(await tryPin('1357')).toContain('Too many tries.');
  });

  it('is entered late from paper, with who signed it and when', async () => {
    const id = await begin(built, marchbanks, '4', {
      paperBy: 'Ines Marchbanks',
      paperOn: '2026-09-10',
      position: '3',
    });
    expect(await look(id)).toMatchObject({
      position: 3,
      paper: { signedBy: 'Ines Marchbanks', signedOn: '2026-09-10' },
    });
    expect((await marchbanks.get(`/sections/1/sign-offs/${id}`)).body).toMatch(
      /Signed on paper by Ines Marchbanks on 2026-09-10, entered by/,
    );
    const photo = Buffer.from('89504e470d0a1a0a0000', 'hex');
    const base = `/sections/1/sign-offs/${id}/photos`;
    expect(
      (await marchbanks.postFile(base, { field: 'file', name: 'x.png', body: photo }, { step: '' }))
        .statusCode,
    ).toBe(303);
    expect((await marchbanks.get(`${base}/1`)).headers['content-type']).toBe('image/png');
    const notOne = await marchbanks.postFile(
      base,
      { field: 'file', name: 'x.png', body: Buffer.from('<svg>') },
      { step: '' },
    );
    expect(notOne.statusCode).toBe(422);
  });

  it('signed by a substitute waits for a countersignature, and counts in the score after it', async () => {
    const given = await marchbanks.post('/sections/1/substitutes', {
      ...{ substituteGiven: 'Rosalind', substituteFamily: 'Achterberg', substituteDay: '2026-09-14' },
    });
    const [, name = '', password = ''] =
      /<span class="code">(substitute-\d+)<\/span>[\s\S]*?<span class="code">([^<]+)<\/span>/.exec(
        given.body,
      ) ?? [];
    const substitute = await signIn(built.app, name, password);
    expect((await substitute.get('/sections/1')).statusCode).toBe(200);
    for (const path of [
      '/lab-sheets',
      '/sections/1/scores',
      '/sections/1/settings',
      '/shop',
      '/sections/1/students/4',
    ])
      expect((await substitute.get(path)).statusCode).toBe(403);
    expect((await substitute.get('/sections/2/sign-offs')).statusCode).toBe(404);
    await substitute.post('/pin', { pin: '8642', password });
    const id = await begin(built, substitute, '4');
    const put = (entries: readonly object[]) =>
      substitute.postJson(`/sections/1/sign-offs/${id}/entries`, { entries });
    await put([...ticks(25), entry(90, { kind: 'reading', typed: READING })]);
    await put([entry(91, { kind: 'signature', role: 'student', pin: '1357' })]);
    await put([entry(92, { kind: 'signature', role: 'assessor', pin: '8642' })]);
    const scores = async () =>
      (await marchbanks.post('/sections/1/scores')).body.split('\n').find((line) => line.includes('Okereke'));
    expect((await marchbanks.get('/sections/1/sign-offs')).body).toContain('to be countersigned');
    expect(await scores()).not.toContain('100.0');
    expect((await substitute.post(`/sections/1/sign-offs/${id}/countersign`)).statusCode).toBe(403);
    expect((await marchbanks.post(`/sections/1/sign-offs/${id}/countersign`)).statusCode).toBe(303);
    expect(await scores()).toContain('100.0');
    built.clock.moveHours(16);
    expect((await substitute.get('/sections')).statusCode).toBe(303);
    await expect(signIn(built.app, name, password)).rejects.toThrow();
  });
});
