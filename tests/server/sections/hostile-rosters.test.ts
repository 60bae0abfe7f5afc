import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Agent, signIn } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { set11, set12, zipped } from './one-roster-set.ts';

const HEAD = 'given_name,family_name,student_number,email';
const many = (count: number, text: (n: number) => string) =>
  Array.from({ length: count }, (_, n) => text(n)).join('');
const bytes = (text: string, encoding: BufferEncoding = 'utf8') => Buffer.from(text, encoding);

/** What is sent, and what must be said of it: a line and a message, or a message alone. */
type Case = [what: string, body: () => Buffer | Promise<Buffer>, said: RegExp, line?: number];

const LISTS: readonly Case[] = [
  ['nothing but blanks', () => bytes(' \n \n'), /nothing in it/, 1],
  ['headings alone', () => bytes(`${HEAD}\n`), /no students below/, 2],
  ['no headings', () => bytes('Jo,Ng,1,\n'), /heading given_name is missing/, 1],
  ['a heading twice', () => bytes(`given_name,${HEAD}\nA,Jo,Ng,1,\n`), /is there 2 times/, 1],
  [
    'no student number column',
    () => bytes('given_name,family_name\nJo,Ng\n'),
    /heading student_number is missing/,
    1,
  ],
  [
    'a quotation mark never closed',
    () => bytes(`${HEAD}\n"Jo,Ng,1,\nAnn,Li,2,\n`),
    /opened here and never closed/,
    2,
  ],
  [
    'one never closed far down',
    () => bytes(`${HEAD}\nJo,Ng,1,\n"Ann,Li,2,\n`),
    /opened here and never closed/,
    3,
  ],
  ['more fields than headings', () => bytes(`${HEAD}\nJo,Ng,1,,x\n`), /more fields than headings/, 2],
  ['a name left blank', () => bytes(`${HEAD}\n,Ng,1,\n`), /no given name/, 2],
  ['a family name of blanks', () => bytes(`${HEAD}\nJo,   ,1,\n`), /no family name/, 2],
  ['a number left blank', () => bytes(`${HEAD}\nJo,Ng,,\n`), /no student number/, 2],
  ['a number with blanks in it', () => bytes(`${HEAD}\nJo,Ng,1 2,\n`), /without spaces/, 2],
  ['a formula for a number', () => bytes(`${HEAD}\nJo,Ng,=1+1,\n`), /letters, digits, dots/, 2],
  ['a number that is HTML', () => bytes(`${HEAD}\nJo,Ng,<b>1</b>,\n`), /letters, digits, dots/, 2],
  [
    'a number that is SQL',
    () => bytes(`${HEAD}\nJo,Ng,1';DROP TABLE people;--,\n`),
    /letters, digits, dots/,
    2,
  ],
  ['a number of 41 letters', () => bytes(`${HEAD}\nJo,Ng,${'1'.repeat(41)},\n`), /longer than 40/, 2],
  ['a name of 201 letters', () => bytes(`${HEAD}\n${'J'.repeat(201)},Ng,1,\n`), /longer than 200/, 2],
  ['a huge field', () => bytes(`${HEAD}\n${'J'.repeat(600_000)},Ng,1,\n`), /longer than 200/, 2],
  ['a name over two lines', () => bytes(`${HEAD}\n"Jo\nAnn",Ng,1,\n`), /cannot be printed, or a line end/, 2],
  ['a bell in a name', () => bytes(`${HEAD}\nJo\u0007,Ng,1,\n`), /cannot be printed/, 2],
  ['an escape in a name', () => bytes(`${HEAD}\nJo\u001b[31m,Ng,1,\n`), /cannot be printed/, 2],
  ['a tab in a name', () => bytes(`${HEAD}\n"J\to",Ng,1,\n`), /cannot be printed/, 2],
  ['an email without an at', () => bytes(`${HEAD}\nJo,Ng,1,nobody\n`), /email address/, 2],
  ['an email with two', () => bytes(`${HEAD}\nJo,Ng,1,a@b@c.example\n`), /email address/, 2],
  [
    'an email of 300 letters',
    () => bytes(`${HEAD}\nJo,Ng,1,${'a'.repeat(290)}@x.example\n`),
    /longer than 254/,
    2,
  ],
  [
    'a student twice',
    () => bytes(`${HEAD}\nJo,Ng,1,\nJo,Ng,1,\n`),
    /repeats the student number of line 2/,
    3,
  ],
  [
    'a student twice in other letters',
    () => bytes(`${HEAD}\nJo,Ng,ab1,\nAn,Li,AB1,\n`),
    /repeats the student number of line 2/,
    3,
  ],
  ['somebody who is no student', () => bytes(`${HEAD}\nA,B,vossberg,\n`), /somebody who is not a student/, 2],
  [
    'an instructor’s name in other letters',
    () => bytes(`${HEAD}\nA,B,Marchbanks,\n`),
    /somebody who is not a student/,
    2,
  ],
  [
    '2001 students',
    () => bytes(`${HEAD}\n${many(2001, (n) => `A,B,n${n},\n`)}`),
    /at most 2000 students/,
    2002,
  ],
  ['bytes that are no text', () => Buffer.from([0x47, 0x49, 0x46, 0, 1, 2, 3]), /not a text file/],
  ['a picture', () => Buffer.from('89504e470d0a1a0a0000000d', 'hex'), /not a text file/],
  ['UTF-16 without its mark', () => bytes(`${HEAD}\nJo,Ng,1,\n`, 'utf16le'), /not a text file/],
  [
    'UTF-16 with its mark and a bad line',
    () => Buffer.concat([Buffer.from([0xff, 0xfe]), bytes(`${HEAD}\nJo,,1,\n`, 'utf16le')]),
    /no family name/,
    2,
  ],
  [
    'half a letter of UTF-8 and a bad line',
    () => Buffer.concat([bytes(`${HEAD}\nJo`), Buffer.from([0xc3]), bytes(',,1,\n')]),
    /no family name/,
    2,
  ],
  ['a NUL in the middle', () => bytes(`${HEAD}\nJo\0,Ng,1,\n`), /not a text file/],
  ['carriage returns alone and a bad line', () => bytes(`${HEAD}\rJo,,1,\r`), /no family name/, 2],
  [
    'semicolons in the head, commas below',
    () => bytes(`${HEAD.replaceAll(',', ';')}\nJo,Ng,1,\n`),
    /no family name/,
    2,
  ],
];

/** A set with one of its files, or several, changed. */
const set =
  (change: (files: Record<string, string>) => void, of = set12) =>
  async () => {
    const files = of();
    change(files);
    return zipped(files);
  };
const swap = (file: string, from: string | RegExp, to: string, of = set12) =>
  set((files) => {
    const before = files[file] ?? '';
    const after = before.replace(from, to);
    if (after === before) throw new Error(`nothing to change in ${file}`);
    files[file] = after;
  }, of);

const SETS: readonly Case[] = [
  ['no manifest', set((files) => delete files['manifest.csv']), /no manifest\.csv in the zip/, 1],
  ['version 1.0', swap('manifest.csv', 'version,1.2', 'version,1.0'), /Version 1\.0 is not read/, 3],
  ['no version', swap('manifest.csv', 'oneroster.version,1.2\r\n', ''), /version is not said/, 1],
  ['only changes', swap('manifest.csv', 'file.users,bulk', 'file.users,delta'), /Export the whole set/, 5],
  [
    'a file that is neither',
    swap('manifest.csv', 'file.users,bulk', 'file.users,some'),
    /absent, bulk or delta/,
    5,
  ],
  [
    'a manifest with other headings',
    swap('manifest.csv', 'propertyName,value', 'name,value'),
    /version is not said/,
    1,
  ],
  ['no users', set((files) => delete files['users.csv']), /names users\.csv, and it is not in the zip/, 5],
  ['no enrolments', set((files) => delete files['enrollments.csv']), /names enrollments\.csv/, 7],
  ['no roles in 1.2', set((files) => delete files['roles.csv']), /names roles\.csv/, 6],
  [
    'no role column in 1.1',
    swap('users.csv', 'orgSourcedIds,role,', 'orgSourcedIds,rolle,', set11),
    /heading role is missing/,
    1,
  ],
  [
    'headings in other letters',
    swap('users.csv', 'givenName', 'GivenName'),
    /heading givenName is missing/,
    1,
  ],
  ['a heading twice', swap('users.csv', 'middleName', 'givenName'), /heading givenName is there twice/, 1],
  [
    'users that are empty',
    set((files) => {
      files['users.csv'] = '';
    }),
    /nothing in it/,
    1,
  ],
  ['a user without a name', swap('users.csv', 'Adaeze', ''), /must not be blank/, 2],
  ['a user with a control character', swap('users.csv', 'Adaeze', 'Ada\u0001eze'), /cannot be printed/, 2],
  ['a user whose number is a formula', swap('users.csv', '004117', '=CMD()'), /letters, digits, dots/, 2],
  [
    'two users of one sourcedId',
    swap('users.csv', 'user-2,', 'user-1,'),
    /repeats the sourcedId of line 2/,
    3,
  ],
  ['two users of one number', swap('users.csv', '004122', '004117'), /Two people of one class/, 3],
  ['a sourcedId with a quote in it', swap('users.csv', 'user-2,', "us'er-2,"), /a sourcedId may not/, 3],
  ['a user who is an instructor here', swap('users.csv', '004117', 'marchbanks'), /not a student/, 2],
  ['a field over two lines', swap('users.csv', 'Adaeze', '"Ada\r\neze"'), /more than one line/, 2],
  ['a quotation mark never closed', swap('users.csv', 'Lourdes', '"Lourdes'), /never closed/, 5],
  [
    'too few fields',
    swap('users.csv', 'user-2,,,true,jng,,Joanna,Ng,,004122,,,Jo', 'user-2,,,true,jng'),
    /fields and 13 headings/,
    3,
  ],
  ['a field of 5000 letters', swap('users.csv', 'Adaeze', 'A'.repeat(5000)), /longer than 4000/, 2],
  ['an enrolment in no class', swap('enrollments.csv', 'class-1', 'class-7'), /No class in classes\.csv/, 2],
  ['an enrolment of nobody', swap('enrollments.csv', ',user-1,', ',user-77,'), /Nobody in users\.csv/, 2],
  ['a date that is none', swap('enrollments.csv', '2027-01-31', '31/01/2027'), /no date like/, 2],
  [
    'a student who is none by role',
    swap('roles.csv', 'user-1,primary,student', 'user-1,primary,aide'),
    /no student by their role/,
    2,
  ],
  [
    'nobody enrolled',
    set((files) => {
      files['enrollments.csv'] = `${(files['enrollments.csv'] ?? '').split('\r\n')[0]}\r\n`;
    }),
    /No class in this set has a student/,
    1,
  ],
  [
    'all enrolments ended',
    set((files) => {
      files['enrollments.csv'] = (files['enrollments.csv'] ?? '')
        .replaceAll('2027-01-31', '2026-09-10')
        .replace(/enr-4.*\r\n/, '');
    }),
    /No class in this set has a student/,
    1,
  ],
  [
    'users in Latin-1',
    async () =>
      zipped({
        ...set12(),
        'users.csv': Buffer.from((set12()['users.csv'] ?? '').replace('Adaeze', 'Adélaïde'), 'latin1'),
      }),
    /not in UTF-8/,
    1,
  ],
  [
    'files in a folder',
    async () =>
      zipped(Object.fromEntries(Object.entries(set12()).map(([name, text]) => [`export/${name}`, text]))),
    /holds folders/,
  ],
  [
    'a way out of the folder',
    async () => {
      const zip = await zipped({ 'aa/evil.csv': 'x' });
      return Buffer.from(zip.toString('latin1').replaceAll('aa/evil.csv', '../evil.csv'), 'latin1');
    },
    /broken/,
  ],
  ['a zip cut short', async () => (await zipped(set12())).subarray(0, 900), /broken/],
  [
    'a zip whose inside was changed',
    async () => {
      const zip = await zipped(set12());
      zip.fill(0xff, 60, 200);
      return zip;
    },
    /broken|could not be unpacked/,
  ],
  [
    '41 files',
    async () => zipped(Object.fromEntries(Array.from({ length: 41 }, (_, n) => [`f${n}.csv`, 'x']))),
    /more than 40 files/,
  ],
  [
    'a bomb: 100 MB of blanks',
    async () => zipped({ ...set12(), 'users.csv': Buffer.alloc(100_000_000, 0x20) }),
    /far larger than any roster/,
  ],
  [
    'many bombs that are small each',
    async () =>
      zipped(
        Object.fromEntries(Array.from({ length: 6 }, (_, n) => [`f${n}.csv`, Buffer.alloc(7_500_000, 0x20)])),
      ),
    /far larger than any roster/,
  ],
  [
    'a bomb that lies about its size',
    async () => {
      const zip = await zipped({ 'users.csv': Buffer.alloc(9_000_000, 0x20) });
      return lied(zip, 9_000_000, 1_000);
    },
    /broken|could not be unpacked|far larger/,
  ],
  [
    'a spreadsheet',
    async () => zipped({ '[Content_Types].xml': '<Types/>', 'sheet.xml': '<x/>' }),
    /spreadsheet’s own file/,
  ],
  ['a zip within a zip', async () => zipped({ 'set.zip': await zipped(set12()) }), /no manifest\.csv/],
  [
    'an empty zip',
    async () => Buffer.concat([Buffer.from('504b0304', 'hex'), await zipped({})]),
    /broken|no manifest/,
  ],
  [
    'a locked zip',
    async () => {
      const zip = await zipped({ 'manifest.csv': 'x' });
      const at = zip.indexOf(Buffer.from('504b0102', 'hex'));
      zip[at + 8] = (zip[at + 8] ?? 0) | 1;
      return zip;
    },
    /locked with a password|broken/,
  ],
];

/** A zip whose directory says another size than what is in it. */
function lied(zip: Buffer, size: number, said: number): Buffer {
  for (let at = zip.indexOf(le(size)); at >= 0; at = zip.indexOf(le(size), at + 1)) le(said).copy(zip, at);
  return zip;
}
const le = (value: number) => {
  const four = Buffer.alloc(4);
  four.writeUInt32LE(value);
  return four;
};

describe('hostile and broken rosters', () => {
  let built: TestApp;
  let agent: Agent;
  beforeAll(async () => {
    built = await testApp();
    agent = await signIn(built.app, 'marchbanks');
  });
  afterAll(() => built.close());

  it('are more than sixty', () => {
    expect(LISTS.length + SETS.length).toBeGreaterThan(60);
  });

  const everything = () =>
    ['people', 'section_students', 'roster_previews', 'section_leavers'].map((table) =>
      built.store.raw.prepare(`SELECT * FROM ${table} ORDER BY 1, 2`).all(),
    );

  it.each<Case>([...LISTS, ...SETS])(
    '%s: says so by line, and changes nothing',
    async (_, body, said, line) => {
      const before = everything();
      const answer = await agent.postFile('/sections/1/roster', {
        field: 'file',
        name: 'roster',
        body: await body(),
      });
      expect(answer.statusCode).toBe(422);
      const text = answer.body.replaceAll('&#39;', "'").replaceAll('&quot;', '"');
      expect(text).toMatch(said);
      if (line !== undefined)
        expect(text).toMatch(
          new RegExp(`<th scope="row" class="figure">${line}</th><td>[^<]*</td><td>[^<]*${said.source}`),
        );
      expect(text.includes('<b>1</b>') || text.includes('\u001b')).toBe(false);
      expect(everything()).toEqual(before);
    },
  );
});
