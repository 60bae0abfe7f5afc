import { readFileSync } from 'node:fs';
import type { LightMyRequestResponse } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fromRoot } from '../../../server/root.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { fieldsOn } from '../teaching/sheet-form.ts';
import { confirmed } from './load-roster.ts';

const sample = (name: string) => readFileSync(fromRoot('tests', 'server', 'sections', 'samples', name));
const HEAD = 'given_name,family_name,student_number,email';

/** The twelve people of the sample README, as they must stand on the roster. */
const TWELVE = [
  ['004117', 'Okonjo-Brandt, Adaeze'],
  ['004118', 'Rivadeneira Quiñones, Tomás'],
  ['004119', "O'Halloran, Siobhán"],
  ['004120', 'Vasilenko, Jr., Dmitri'],
  ['004121', 'Thackeray, Mei-Ling'],
  ['004122', 'Ng, Jo'],
  ['004123', 'Featherstonehaugh-Wolfeschlegel, Bartholomew-Alexander'],
  ['004124', 'Thị Hương, Nguyễn'],
  ['004125', 'de la Peña, Lucía'],
  ['004126', 'Asante, Kwame'],
  ['004127', 'Sæther, Runa'],
  ['004128', 'Whitlock, Caleb'],
];

describe('loading a roster', () => {
  let built: TestApp;
  let agent: Agent;
  beforeEach(async () => {
    built = await testApp();
    agent = await signIn(built.app, 'marchbanks');
  });
  afterEach(() => built.close());

  const taken = (answer: LightMyRequestResponse) => confirmed(agent, answer);
  const load = async (name: string, body = sample(name)) =>
    taken(await agent.postFile('/sections/1/roster', { field: 'file', name, body }));
  const paste = async (pasted: string) => taken(await agent.post('/sections/1/roster', { pasted }));

  /** Everybody but the demo program's people. */
  const loaded = async () => {
    const people = await built.store.db
      .selectFrom('people')
      .selectAll()
      .where('demo', '=', 0)
      .orderBy('student_number')
      .execute();
    return people.map((one) => [one.student_number, `${one.family_name}, ${one.given_name}`]);
  };
  const seats = async () =>
    (await built.store.db.selectFrom('section_students').selectAll().where('section_id', '=', 1).execute())
      .length;

  it.each(['roster-simple.csv', 'roster-bom-crlf.csv', 'roster-semicolon.csv'])(
    'puts the twelve people of %s on the roster, accents, commas and leading zeros as written',
    async (name) => {
      const response = await load(name);
      expect(response.statusCode).toBe(200);
      expect(response.body).toMatch(/Added<\/dt><dd>12<.*\n.*Already there<\/dt><dd>0</);
      expect(await loaded()).toEqual(TWELVE);
      const noAddress = await built.store.db
        .selectFrom('people')
        .select('email')
        .where('student_number', '=', '004124')
        .executeTakeFirst();
      expect(noAddress).toEqual({ email: null });
      const page = await agent.get('/sections/1');
      for (const [number, shown = ''] of TWELVE) {
        expect(page.body).toContain(number);
        expect(page.body).toContain(shown.replace("'", '&#39;'));
      }
    },
  );

  it('reads roster-latin1.csv right and asks to check the accents', async () => {
    const response = await load('roster-latin1.csv');
    expect(response.statusCode).toBe(200);
    expect(response.body).toContain('it was read as Windows-1252');
    // That encoding has no letters for this one name, so its file holds it without them.
    expect(await loaded()).toEqual(
      TWELVE.map(([number, name]) => [number, number === '004124' ? 'Thi Huong, Nguyen' : name]),
    );
  });

  it('loads nothing of roster-bad.csv and names each of its three lines with what is wrong', async () => {
    const response = await load('roster-bad.csv');
    expect(response.statusCode).toBe(422);
    const told = [
      ...response.body.matchAll(/<th scope="row" class="figure">(\d+)<\/th><td>([^<]+)<\/td><td>([^<]+)</g),
    ];
    expect(told.map(([, line, field, message]) => [Number(line), field, message])).toEqual([
      [4, 'family name', 'There is no family name.'],
      [6, 'student number', 'This repeats the student number of line 3.'],
      [8, 'email', 'This does not look like an email address. Mend it, or leave it blank.'],
    ]);
    expect(await loaded()).toEqual([]);
    expect(await seats()).toBe(3);
  });

  it('keeps the odd name of that file as text once its address is mended, and shows it as text', async () => {
    const line = '"=HYPERLINK(""http://example.invalid"")",<b>Feather</b>,004123,';
    expect((await paste(`${HEAD}\n${line}\n`)).statusCode).toBe(200);
    expect(await loaded()).toEqual([['004123', '<b>Feather</b>, =HYPERLINK("http://example.invalid")']]);
    const page = await agent.get('/sections/1');
    expect(page.body).toContain('&lt;b&gt;Feather&lt;/b&gt;, =HYPERLINK(&quot;http://example.invalid&quot;)');
    expect(page.body).not.toContain('<b>Feather');
  });

  it('says of those already there that they are, the second time', async () => {
    await load('roster-simple.csv');
    const again = await load('roster-bom-crlf.csv');
    expect(again.body).toMatch(/Added<\/dt><dd>0<.*\n.*Already there<\/dt><dd>12</);
    expect(await seats()).toBe(15);
  });

  it('adds a student known from another instructor’s section, changes nothing about them, and says so', async () => {
    const person = () =>
      built.store.db.selectFrom('people').selectAll().where('student_number', '=', '003204').execute();
    const before = await person();
    const shown = await agent.post('/sections/1/roster', {
      pasted: `${HEAD}\nBob,Li,003204,new@students.example\n`,
    });
    const page = await agent.get(String(shown.headers.location));
    expect(page.body).toContain('Left alone: in a section of another instructor too (1)');
    expect(page.body).toMatch(/003204[\s\S]*Li, Bob[\s\S]*>Li, Bo</);
    await taken(shown);
    expect(await person()).toEqual(before);
    expect(await seats()).toBe(4);
  });

  it('shows a changed name before it changes it, and a list without addresses takes none away', async () => {
    await load('roster-simple.csv');
    const shown = await agent.post('/sections/1/roster', {
      pasted: 'given_name,family_name,student_number\nJoanna,Ng,004122\n',
    });
    const page = await agent.get(String(shown.headers.location));
    expect(page.body).toContain('Changed (1)');
    expect(page.body).toMatch(/Ng, Joanna[\s\S]*Ng, Jo</);
    expect(await loaded()).toEqual(TWELVE);
    await taken(shown);
    const [jo] = (await loaded()).filter(([number]) => number === '004122');
    expect(jo).toEqual(['004122', 'Ng, Joanna']);
    const { email } = await built.store.db
      .selectFrom('people')
      .select('email')
      .where('student_number', '=', '004122')
      .executeTakeFirstOrThrow();
    expect(email).not.toBeNull();
  });

  it('takes nobody off unless they are ticked, and keeps the work of those who are', async () => {
    await givenAttempt(built.store, {
      ...{
        id: 'eeeeeeee-0000-4000-8000-000000000001',
        signInName: '003201',
        sectionId: 1,
        itemId: 3,
        seed: 'leaver',
      },
    });
    const list = `${HEAD}\nJo,Ng,004122,\n`;
    const at = async () =>
      String((await agent.post('/sections/1/roster', { pasted: list })).headers.location);
    const first = await at();
    const page = await agent.get(first);
    expect(page.body).toContain('Take off Okereke, Tamsin');
    await agent.post(first, fieldsOn(page.body));
    expect(await seats()).toBe(4);
    const second = await at();
    await agent.post(second, { ...fieldsOn((await agent.get(second)).body), 'drop-4': 'on' });
    expect(await seats()).toBe(3);
    expect(await built.store.db.selectFrom('attempts').select('id').execute()).toHaveLength(1);
    expect((await agent.get('/sections/1/students/4')).statusCode).toBe(404);
    await paste(`${HEAD}\nTamsin,Okereke,003201,\n`);
    expect((await agent.get('/sections/1/students/4')).body).toContain('Graded');
  });

  it('does nothing where the roster changed after it was shown, and shows it anew', async () => {
    const shown = await agent.post('/sections/1/roster', { pasted: `${HEAD}\nJo,Ng,004122,\n` });
    const at = String(shown.headers.location);
    const page = await agent.get(at);
    await paste(`${HEAD}\nAda,Lund,004999,\n`);
    const late = await agent.post(at, fieldsOn(page.body));
    expect(late.statusCode).toBe(409);
    expect(late.body).toContain('The roster changed since this was shown');
    expect((await loaded()).map(([number]) => number)).toEqual(['004999']);
    await agent.post(at, fieldsOn(late.body));
    expect(await loaded()).toHaveLength(2);
  });

  it('is shown to nobody but the one who loaded it', async () => {
    const shown = await agent.post('/sections/1/roster', { pasted: `${HEAD}\nJo,Ng,004122,\n` });
    const other = await signIn(built.app, 'duenas');
    expect((await other.get(String(shown.headers.location))).statusCode).toBe(404);
    const elsewhere = String(shown.headers.location).replace('/sections/1/', '/sections/2/');
    expect((await other.get(elsewhere)).statusCode).toBe(404);
  });

  it('refuses the sign-in name of somebody who is no student, and loads nothing', async () => {
    const response = await paste(`${HEAD}\nA,B,900,\nC,D,Vossberg,\n`);
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('somebody who is not a student');
    expect(await loaded()).toEqual([]);
  });

  it('keeps a pasted list that was refused', async () => {
    const response = await paste(`${HEAD}\nA,,900,\n`);
    expect(response.body).toContain(`${HEAD}\nA,,900,\n</textarea>`);
  });

  it.each([
    ['neither', {}, 'Choose a file, or paste the list.'],
    ['both', { pasted: 'x' }, 'Choose a file or paste the list, not both.'],
  ])('asks for one of file and paste when given %s', async (which, fields, sentence) => {
    const body = which === 'both' ? Buffer.from('x') : Buffer.alloc(0);
    const response = await agent.postFile(
      '/sections/1/roster',
      { field: 'file', name: 'a.csv', body },
      fields,
    );
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain(sentence);
  });

  it('refuses a zip that is none', async () => {
    const response = await load('roster.xlsx', Buffer.from([0x50, 0x4b, 3, 4, 0, 0]));
    expect(response.statusCode).toBe(422);
    expect(response.body).toContain('This zip is broken');
  });

  it('takes a file just below 1 MB and refuses one above, and a pasted list too', async () => {
    const filled = (bytes: number) => {
      const start = `${HEAD},note\nA,B,900,,`;
      return Buffer.from(start + 'x'.repeat(bytes - start.length));
    };
    expect((await load('big.csv', filled(999_999))).statusCode).toBe(200);
    expect((await load('big.csv', filled(1_000_001))).statusCode).toBe(413);
    const pasted = await agent.postFile(
      '/sections/1/roster',
      { field: 'file', name: '', body: Buffer.alloc(0) },
      { pasted: filled(1_000_001).toString() },
    );
    expect(pasted.statusCode).toBe(413);
  });
});
