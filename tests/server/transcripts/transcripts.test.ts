import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Agent, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { givenShopItem, givenSignOff } from '../../support/given-shop-work.ts';
import { sessionFor } from '../../support/session.ts';
import { ONE_RUN, ruleInForce } from '../support/rule-in-force.ts';

describe('a transcript', () => {
  let built: TestApp;
  let coordinator: Agent;
  let code = '';
  beforeAll(async () => {
    built = await testApp();
    const { store } = built;
    const shopItem = await givenShopItem(store);
    await ruleInForce(store, 2, ONE_RUN, '2026-09-01T00:00:00.000Z', [3, 5, shopItem]);
    const about = { signInName: '003201', sectionId: 1, itemId: 3 };
    await givenAttempt(store, {
      ...about,
      id: 'the-run',
      seed: 'transcript-1',
      at: '2026-09-10T10:00:00.000Z',
    });
    await givenSignOff(store, {
      ...about,
      id: 'the-sign-off',
      itemId: shopItem,
      at: '2026-09-11T10:00:00.000Z',
    });
    await built.store.db
      .updateTable('people')
      .set({ given_name: 'Łucja Ánna', family_name: 'Żółkiewska <b>' })
      .where('sign_in_name', '=', '003201')
      .execute();
    coordinator = await sessionFor(built, 'vossberg');
  });
  afterAll(() => built.close());

  const look = async (typed: string) => visitor(built.app).get(`/verify?code=${encodeURIComponent(typed)}`);
  const WANTED = { asOf: '', recipient: 'Northgate Diesel, J. Doe', purpose: 'asked for by the student' };

  it('is found by the name, asks for whom and what for, and is written down', async () => {
    expect((await coordinator.get('/people?q=zolkiewska%20anna')).body).toContain('href="/people/4"');
    expect((await coordinator.get('/people?q=nobody%20here')).body).toContain('Try fewer letters');
    const refused = await coordinator.post('/people/4/transcript', {
      ...WANTED,
      recipient: ' ',
      asOf: '2031-01-01',
    });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('Write who it is for.');
    expect(refused.body).toContain('value="asked for by the student"');
    const issued = await coordinator.post('/people/4/transcript', WANTED);
    expect(issued.statusCode).toBe(303);
    code = /transcripts\/(\w{12})/.exec(String(issued.headers.location))?.[1] ?? '';
    const { body } = await coordinator.get(`/transcripts/${code}`);
    for (const words of ['holds it', 'practice engine', 'shop engine', 'indicator G7, check due 10 Jan 2027'])
      expect(body.toLowerCase()).toContain(words.toLowerCase());
    expect(body).toContain('Żółkiewska &lt;b&gt;');
    const person = (await coordinator.get('/people/4')).body;
    expect(person).toContain(`/transcripts/${code}`);
    expect(person).toContain('Northgate Diesel, J. Doe');
    expect((await coordinator.get('/exports')).body).toContain('Transcript of Łucja Ánna Żółkiewska');
  });

  it('is shown to whoever holds its code, however it is typed, and nothing more is', async () => {
    const spaced = `${code.slice(0, 4)} ${code.slice(4, 8).toLowerCase()}-${code.slice(8)}`;
    const { statusCode, body } = await look(spaced);
    expect(statusCode).toBe(200);
    expect(body).toContain('This transcript is genuine.');
    expect(body).toContain('003201');
    // Neither for whom it was made, nor a way to anything else of the record.
    expect(body).not.toContain('Northgate');
    expect(body).not.toMatch(/href="\/(people|competencies|transcripts|exports)/);
  });

  it('is not found by a code with any one letter changed', async () => {
    for (let index = 0; index < code.length; index += 1) {
      const other = code[index] === '7' ? '8' : '7';
      const { statusCode, body } = await look(code.slice(0, index) + other + code.slice(index + 1));
      expect(statusCode).toBe(422);
      expect(body).not.toContain('003201');
    }
    expect((await look('no code at all')).body).toContain('This is no code.');
  });

  it('says what it said, whatever comes after', async () => {
    const before = (await look(code)).body;
    await coordinator.post('/competencies/1/people/4', {
      word: 'revoked',
      reason: 'The sheet was not theirs.',
    });
    expect((await coordinator.get('/people/4')).body).toContain('revoked');
    expect((await look(code)).body).toBe(before);
  });

  it('can be withdrawn, and then says so with the reason', async () => {
    expect((await coordinator.post(`/transcripts/${code}/withdraw`, { reason: '' })).statusCode).toBe(422);
    await coordinator.post(`/transcripts/${code}/withdraw`, { reason: 'Given for the wrong person.' });
    const { body } = await look(code);
    expect(body).toContain('was withdrawn');
    expect(body).toContain('Given for the wrong person.');
    expect(body).not.toContain('is genuine');
  });

  it('is as of an earlier day where that was asked for', async () => {
    const issued = await coordinator.post('/people/4/transcript', { ...WANTED, asOf: '2026-09-10' });
    const { body } = await coordinator.get(String(issued.headers.location));
    expect(body).toContain('Practice part met');
    expect(body).not.toContain('indicator G7');
  });

  it('comes as a PDF that names its code', async () => {
    const { headers, rawPayload } = await coordinator.get(`/transcripts/${code}/pdf`);
    expect(headers['content-type']).toBe('application/pdf');
    expect(rawPayload.subarray(0, 5).toString()).toBe('%PDF-');
    expect(rawPayload.length).toBeGreaterThan(5000);
  });

  it('stops whoever guesses', async () => {
    const answers: number[] = [];
    for (let index = 0; index < 61; index += 1) answers.push((await look('2222 2222 2222')).statusCode);
    expect(answers.at(-1)).toBe(429);
  });
});
