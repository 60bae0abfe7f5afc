import { type LineProblem, splitRecords } from './roster-csv.ts';

/** One record of a OneRoster file, with the line it begins on. */
export interface OneRosterRecord {
  readonly line: number;
  /** The field under a heading; '' where the column is missing. */
  get(heading: string): string;
}

/** What must stand in a file of OneRoster 1.1 and 1.2, as far as a roster needs it. Source: OneRoster CSV binding, 1.1 and 1.2. */
const REQUIRED: Readonly<Record<string, readonly string[]>> = {
  'classes.csv': ['sourcedId', 'title'],
  'users.csv': ['sourcedId', 'username', 'givenName', 'familyName'],
  'enrollments.csv': ['sourcedId', 'classSourcedId', 'userSourcedId', 'role'],
};
const REQUIRED_1_1: Readonly<Record<string, readonly string[]>> = { 'users.csv': ['role'] };
const REQUIRED_1_2: Readonly<Record<string, readonly string[]>> = { 'roles.csv': ['userSourcedId', 'role'] };

const SOURCED_ID = /^[A-Za-z0-9.\-_/@{}:]{1,255}$/;
const MOST_RECORDS = 20_000;
/** Enough to see what is wrong with a file; the rest is as wrong. */
const MOST_PROBLEMS = 100;

/**
 * Reads one file: headings by name, letter case as the standard has it, in any order, since real files stray from it. Every line that lacks
 * what is required is named. Line ends within a field are refused, as the standard does.
 */
export function readOneRosterFile(
  file: string,
  bytes: Buffer,
  version: '1.1' | '1.2',
): { readonly records: readonly OneRosterRecord[]; readonly problems: readonly LineProblem[] } {
  const problems: LineProblem[] = [];
  const say = (line: number, field: string, message: string) => {
    if (problems.length < MOST_PROBLEMS) problems.push({ file, line, field, message });
  };
  const none = () => ({ records: [], problems });
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    say(1, 'file', 'This file is not in UTF-8, as OneRoster asks.');
    return none();
  }
  if (text.includes('\0')) {
    say(1, 'file', 'This is not a text file.');
    return none();
  }
  const split = splitRecords(text.replace(/^\uFEFF/, ''));
  if (!Array.isArray(split)) {
    say(split.line, split.field, split.message);
    return none();
  }
  const [header, ...body] = split.filter(({ cells }) => cells.some((cell) => cell !== ''));
  if (!header) {
    say(1, 'file', 'There is nothing in it.');
    return none();
  }
  if (body.length > MOST_RECORDS) {
    say(MOST_RECORDS + 2, 'file', `It holds more than ${MOST_RECORDS} records.`);
    return none();
  }
  const places = new Map<string, number>();
  for (const [index, heading] of header.cells.entries()) {
    if (heading !== '' && places.has(heading))
      say(header.line, 'headings', `The heading ${heading} is there twice.`);
    places.set(heading, index);
  }
  const needed = [
    ...(REQUIRED[file] ?? []),
    ...((version === '1.1' ? REQUIRED_1_1[file] : REQUIRED_1_2[file]) ?? []),
  ];
  for (const heading of needed)
    if (!places.has(heading)) say(header.line, 'headings', `The heading ${heading} is missing.`);
  if (problems.length > 0) return none();

  const seen = new Map<string, number>();
  const records = body.map(({ line, cells }): OneRosterRecord => {
    const get = (heading: string) => (cells[places.get(heading) ?? -1] ?? '').trim();
    if (cells.length !== header.cells.length)
      say(line, 'line', `There are ${cells.length} fields and ${header.cells.length} headings.`);
    for (const heading of needed) if (get(heading) === '') say(line, heading, 'This must not be blank.');
    const id = get('sourcedId');
    if (id !== '' && !SOURCED_ID.test(id))
      say(line, 'sourcedId', 'This holds a character that a sourcedId may not.');
    const earlier = seen.get(id);
    if (id !== '' && earlier !== undefined)
      say(line, 'sourcedId', `This repeats the sourcedId of line ${earlier}.`);
    seen.set(id, line);
    if (cells.some((cell) => cell.length > 4000))
      say(line, 'line', 'A field is longer than 4000 characters.');
    else if (cells.some((cell) => /[\r\n]/.test(cell)))
      say(line, 'line', 'A field runs over more than one line.');
    return { line, get };
  });
  return { records, problems };
}
