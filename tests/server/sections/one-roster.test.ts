import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readOneRoster } from '../../../server/sections/oneroster.ts';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { fieldsOn } from '../teaching/sheet-form.ts';
import { confirmed } from './load-roster.ts';
import { set11, set12, zipped } from './one-roster-set.ts';

// The shape of the sets follows the OneRoster CSV binding 1.1 and 1.2; the people and classes are invented.
describe('a OneRoster set', () => {
  let built: TestApp;
  let agent: Agent;
  beforeEach(async () => {
    built = await testApp();
    agent = await signIn(built.app, 'marchbanks');
  });
  afterEach(() => built.close());

  const load = async (files: Record<string, string | Buffer>) =>
    agent.postFile('/sections/1/roster', { field: 'file', name: 'set.zip', body: await zipped(files) });
  const loaded = async () =>
    (
      await built.store.db
        .selectFrom('people')
        .where('demo', '=', 0)
        .select(['sourced_id', 'student_number', 'family_name', 'given_name', 'email', 'password_hash'])
        .orderBy('sourced_id')
        .execute()
    ).map((one) => Object.values(one));
  const THREE = [
    ['user-1', '004117', 'Okonjo-Brandt', 'Adaeze', 'a.okonjo@students.example', null],
    ['user-2', '004122', 'Ng', 'Jo', null, null],
    ['user-3', 'dvasilenko', 'Vasilenko, Jr.', 'Dmitri', null, null],
  ];

  it.each([
    ['1.2', set12],
    ['1.1', set11],
  ] as const)(
    'of version %s puts its students on the roster, by their preferred names, and no password',
    async (_, files) => {
      const answer = await load(files());
      const page = await agent.get(String(answer.headers.location));
      expect(page.body).toContain('Fuel systems, morning (3)');
      expect(page.body).toContain('Taught there by Lourdes Teague');
      await agent.post(String(answer.headers.location), fieldsOn(page.body));
      expect(await loaded()).toEqual(THREE);
    },
  );

  it('lets another of its classes be chosen', async () => {
    const at = String((await load(set12())).headers.location);
    const page = await agent.get(`${at}?class=1`);
    expect(page.body).toMatch(/Added<\/dt><dd>1</);
    await agent.post(at, fieldsOn(page.body));
    expect((await loaded()).map(([id]) => id)).toEqual(['user-2']);
    expect(
      (
        await built.store.db
          .selectFrom('sections')
          .where('id', '=', 1)
          .select('class_sourced_id')
          .executeTakeFirst()
      )?.class_sourced_id,
    ).toBe('class-2');
  });

  it('finds a person again by what the other system calls them, though name and number changed', async () => {
    await confirmed(agent, await load(set12()));
    const files = set12();
    files['users.csv'] = (files['users.csv'] ?? '')
      .replace('Okonjo-Brandt', 'Okonjo')
      .replace('004117', '994117');
    const answer = await load(files);
    expect((await agent.get(String(answer.headers.location))).body).toContain('Changed (1)');
    await confirmed(agent, answer);
    expect((await loaded())[0]).toEqual([
      'user-1',
      '004117',
      'Okonjo',
      'Adaeze',
      'a.okonjo@students.example',
      null,
    ]);
    expect(await loaded()).toHaveLength(3);
  });

  it('leaves out who has ended, is disabled, or is marked to be deleted, and says how many', () => {
    const files = set12();
    files['enrollments.csv'] = (files['enrollments.csv'] ?? '')
      .replace('enr-user-1,,', 'enr-user-1,tobedeleted,')
      .replace(
        'class-1,org-1,user-2,student,,2026-09-01,2027-01-31',
        'class-1,org-1,user-2,student,,2026-09-01,2026-11-27',
      );
    const read = readOneRoster(
      new Map(Object.entries(files).map(([name, text]) => [name, Buffer.from(text)])),
      '2026-11-27',
    );
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(read.classes.map(({ rows }) => rows.map(({ sourcedId }) => sourcedId))).toEqual([
      ['user-3'],
      ['user-2'],
    ]);
    expect(read.notes).toEqual(['2 enrolments have ended or are marked to be deleted, and were left out.']);
  });

  it('may have a byte-order mark, its columns in another order, and columns of its own', async () => {
    const files = set12();
    files['classes.csv'] =
      `\uFEFFmetadata.room,title,sourcedId\r\n12,"Fuel systems, morning",class-1\r\n14,Evening,class-2\r\n`;
    await confirmed(agent, await load(files));
    expect(await loaded()).toEqual(THREE);
  });

  it('of two thousand students is shown and taken whole', async () => {
    const files = set12();
    const users = Array.from({ length: 1997 }, (_, n) => n + 100);
    files['users.csv'] += users
      .map((n) => `user-${n},,,true,u${n},,Given ${n},Family ${n},,N${n},,,\r\n`)
      .join('');
    files['roles.csv'] += users.map((n) => `role-${n},,,user-${n},primary,student,,,org-1\r\n`).join('');
    files['enrollments.csv'] += users
      .map((n) => `enr-${n},,,class-1,org-1,user-${n},student,,,\r\n`)
      .join('');
    await confirmed(agent, await load(files));
    expect(await loaded()).toHaveLength(2000);
  });
});
