import { describe, expect, it } from 'vitest';
import { readRosterCsv } from '../../../server/sections/roster-csv.ts';
import { decodeRoster } from '../../../server/sections/roster-text.ts';

const HEAD = 'given_name,family_name,student_number,email';

/** Line and field of each problem. */
function problems(text: string): [number, string][] {
  const read = readRosterCsv(text);
  return read.ok ? [] : read.problems.map(({ line, field }) => [line, field]);
}

function rows(text: string) {
  const read = readRosterCsv(text);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.rows;
}

describe('a roster', () => {
  it('may have its columns in any order, other letter case, and no email column', () => {
    const [row] = rows('Student Number,FAMILY_NAME,given-name\n0012,Ng,Jo\n');
    expect(row).toEqual({ line: 2, givenName: 'Jo', familyName: 'Ng', studentNumber: '0012', email: null });
  });

  it('may have tabs or semicolons, chosen from the header line alone', () => {
    expect(rows(`${HEAD.replaceAll(',', '\t')}\nJo\tNg, the; younger\t1\t\n`)[0]?.familyName).toBe(
      'Ng, the; younger',
    );
    expect(rows(`${HEAD.replaceAll(',', ';')}\nJo;Ng, Jr.;1;\n`)[0]?.familyName).toBe('Ng, Jr.');
  });

  it('may have other columns, which are named as not used', () => {
    const read = readRosterCsv('given_name,cohort,family_name,student_number,Seat no.\nJo,x,Ng,1,4\n');
    expect(read).toMatchObject({ ok: true, notes: ['Not used: the columns cohort, Seat no..'] });
  });

  it('keeps odd names as text: formulas, quotation marks, letters put together of two', () => {
    const [formula, quoted, accent] = rows(`${HEAD}\n=1+1,+Ng,1,\nJo "Jet",O"Neil,2,\nZoe\u0308,Ng,3,\n`);
    expect([formula?.givenName, formula?.familyName]).toEqual(['=1+1', '+Ng']);
    expect([quoted?.givenName, quoted?.familyName]).toEqual(['Jo "Jet"', 'O"Neil']);
    expect(accent?.givenName).toBe('Zo\u00eb');
  });

  it('counts lines as an editor does: blank ones, and a quoted field over two', () => {
    expect(problems(`${HEAD}\r\n\r\n\r\nJo,,1,\r\n"Jo\r\nAnn",Ng,2,\r\n,Ng,3,\r\n`)).toEqual([
      [4, 'family name'],
      [5, 'given name'],
      [7, 'given name'],
    ]);
  });

  it('names every field that is wrong in a line', () => {
    expect(problems(`${HEAD}\n,,,nobody\n`)).toEqual([
      [2, 'given name'],
      [2, 'family name'],
      [2, 'student number'],
      [2, 'email'],
    ]);
  });

  it('takes a repeated number for the same whatever its letter case', () => {
    expect(problems(`${HEAD}\nA,B,s1,\nC,D,S1,\nE,F,01,\nG,H,1,\n`)).toEqual([[3, 'student number']]);
  });

  it.each([
    ['a number with a space', 'A,B,1 2,', 'student number'],
    ['an address without a dot', 'A,B,1,a@b', 'email'],
    ['an address with two signs', 'A,B,1,a@@b.example', 'email'],
    ['a tab in a name', '"A\tA",B,1,', 'given name'],
    ['a name of 201 letters', `A,${'b'.repeat(201)},1,`, 'family name'],
    ['a comma too many', 'A,B, Jr.,1,a@b.example', 'line'],
  ])('refuses %s', (_, line, field) => {
    expect(problems(`${HEAD}\n${line}\n`).map(([, name]) => name)).toContain(field);
  });

  it('takes a name of 200 letters', () => expect(rows(`${HEAD}\nA,${'b'.repeat(200)},1,\n`)).toHaveLength(1));

  it('says where a quotation mark was opened that is never closed', () => {
    expect(problems(`${HEAD}\nA,B,1,\n"C,D,2,\nE,F,3,\n`)).toEqual([[3, 'line']]);
  });

  it.each([
    ['', 'file'],
    ['\n\n', 'file'],
    [`${HEAD}\n`, 'file'],
    ['Jo,Ng,1\n', 'headings'],
    ['given_name,given_name,family_name,student_number\nA,B,C,1\n', 'headings'],
  ])('refuses %j as a whole', (text, field) => {
    expect(problems(text)[0]?.[1]).toBe(field);
  });

  it('refuses more than 2000 students, and takes 2000', () => {
    const lines = (count: number) =>
      `${HEAD}\n${Array.from({ length: count }, (_, n) => `A,B,${n},`).join('\n')}\n`;
    expect(rows(lines(2000))).toHaveLength(2000);
    expect(problems(lines(2001))).toEqual([[2002, 'file']]);
  });
});

describe('the bytes of a roster', () => {
  it('are UTF-8 when they can be', () => {
    expect(decodeRoster(Buffer.from('Tomás'))).toEqual({ text: 'Tomás', notes: [] });
  });

  it('are else Windows-1252, with a note', () => {
    const decoded = decodeRoster(Buffer.from([0x54, 0xf3, 0x20, 0x93, 0x80, 0x94]));
    expect(decoded?.text).toBe('Tó “€”');
    expect(decoded?.notes[0]).toContain('Check the names with accents');
  });

  it('are UTF-16 when they begin so', () => {
    expect(decodeRoster(Buffer.from('\uFEFFTomás', 'utf16le'))?.text).toBe('Tomás');
  });

  it('of a spreadsheet are no text', () => {
    expect(decodeRoster(Buffer.from([0x50, 0x4b, 3, 4, 0, 0]))).toBeUndefined();
  });
});
