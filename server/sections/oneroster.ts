import { type OneRosterRecord, readOneRosterFile } from './oneroster-file.ts';
import type { LineProblem } from './roster-csv.ts';
import { checkStudent, FIELD_WORDS, type RosterRow } from './roster-row.ts';

/** A class of the set, with its students. */
export interface RosterClass {
  readonly sourcedId: string;
  readonly title: string;
  /** What its school and its first term are called there; blank where the file says nothing. */
  readonly school: string;
  readonly term: string;
  readonly rows: readonly RosterRow[];
  /** Who teaches it there; nobody is made an instructor by a file. */
  readonly teachers: readonly string[];
}

export type OneRosterSet =
  | { readonly ok: true; readonly classes: readonly RosterClass[]; readonly notes: readonly string[] }
  | { readonly ok: false; readonly problems: readonly LineProblem[] };

const FILES = ['classes.csv', 'users.csv', 'enrollments.csv'] as const;

/**
 * Reads a set of OneRoster CSV files, 1.1 or 1.2, bulk. Only what a roster needs is looked at: manifest, classes, users, roles, enrollments;
 * passwords and everything else in it are passed over. `today` is a day, `2026-11-27`: an enrolment that has ended, or that its file marks to be
 * deleted, puts nobody on a roster. With any problem there are no classes. Source: OneRoster CSV binding 1.1 and 1.2.
 */
export function readOneRoster(files: ReadonlyMap<string, Buffer>, today: string): OneRosterSet {
  const manifest = readManifest(files);
  if ('problems' in manifest) return { ok: false, problems: manifest.problems };
  const { version } = manifest;
  const wanted = version === '1.2' ? [...FILES, 'roles.csv'] : FILES;
  const problems: LineProblem[] = [];
  const read = new Map<string, readonly OneRosterRecord[]>();
  for (const file of wanted) {
    const bytes = files.get(file);
    if (bytes === undefined) {
      problems.push({ file, line: 1, field: 'file', message: 'This file is missing from the zip.' });
      continue;
    }
    const { records, problems: found } = readOneRosterFile(file, bytes, version);
    problems.push(...found);
    read.set(file, records);
  }
  if (problems.length > 0) return { ok: false, problems };
  const get = (file: string) => read.get(file) ?? [];
  return join(get('classes.csv'), get('users.csv'), get('enrollments.csv'), get('roles.csv'), version, today);
}

function readManifest(
  files: ReadonlyMap<string, Buffer>,
): { readonly version: '1.1' | '1.2' } | { readonly problems: readonly LineProblem[] } {
  const file = 'manifest.csv';
  const refuse = (line: number, field: string, message: string) => ({
    problems: [{ file, line, field, message }],
  });
  const bytes = files.get(file);
  if (bytes === undefined)
    return refuse(1, 'file', 'There is no manifest.csv in the zip. It is no OneRoster 1.1 or 1.2 set.');
  const { records, problems } = readOneRosterFile(file, bytes, '1.2');
  if (problems.length > 0) return { problems };
  const property = (name: string) => records.find((record) => record.get('propertyName') === name);
  const version = property('oneroster.version');
  if (version === undefined) return refuse(1, 'oneroster.version', 'The version is not said.');
  const said = version.get('value');
  if (said !== '1.1' && said !== '1.2')
    return refuse(
      version.line,
      'oneroster.version',
      `Version ${said.slice(0, 20)} is not read; 1.1 and 1.2 are.`,
    );
  for (const record of records) {
    const [, name] = /^file\.(.+)$/.exec(record.get('propertyName')) ?? [];
    if (name === undefined) continue;
    const value = record.get('value');
    const wants = FILES.some((one) => one === `${name}.csv`) || name === 'roles';
    if (value === 'delta' && wants)
      return refuse(
        record.line,
        `file.${name}`,
        'This set holds only changes. Export the whole set (bulk) and send that.',
      );
    if (value === 'bulk' && wants && !files.has(`${name}.csv`))
      return refuse(record.line, `file.${name}`, `The manifest names ${name}.csv, and it is not in the zip.`);
    if (value !== 'bulk' && value !== 'delta' && value !== 'absent')
      return refuse(record.line, `file.${name}`, 'This must be absent, bulk or delta.');
  }
  return { version: said };
}

function join(
  classes: readonly OneRosterRecord[],
  users: readonly OneRosterRecord[],
  enrollments: readonly OneRosterRecord[],
  roles: readonly OneRosterRecord[],
  version: '1.1' | '1.2',
  today: string,
): OneRosterSet {
  const problems: LineProblem[] = [];
  const notes: string[] = [];
  const here = (record: OneRosterRecord) => record.get('status') !== 'tobedeleted';
  const byId = new Map(users.map((user) => [user.get('sourcedId'), user]));
  const known = new Map(classes.map((one) => [one.get('sourcedId'), one]));
  const students = new Set(
    version === '1.1'
      ? users.filter((user) => user.get('role') === 'student').map((user) => user.get('sourcedId'))
      : roles.filter((role) => role.get('role') === 'student').map((role) => role.get('userSourcedId')),
  );
  const rows = new Map<string, RosterRow[]>();
  const teachers = new Map<string, string[]>();
  const numbers = new Map<string, string>();
  let ended = 0;
  for (const enrollment of enrollments) {
    const say = (field: string, message: string) =>
      problems.push({ file: 'enrollments.csv', line: enrollment.line, field, message });
    const classId = enrollment.get('classSourcedId');
    const user = byId.get(enrollment.get('userSourcedId'));
    if (!known.has(classId)) say('classSourcedId', 'No class in classes.csv goes by this.');
    if (user === undefined) say('userSourcedId', 'Nobody in users.csv goes by this.');
    if (!known.has(classId) || user === undefined) continue;
    const from = enrollment.get('beginDate');
    const until = enrollment.get('endDate');
    for (const [field, day] of [
      ['beginDate', from],
      ['endDate', until],
    ] as const)
      if (day !== '' && !/^\d{4}-\d{2}-\d{2}$/.test(day)) say(field, 'This is no date like 2026-11-27.');
    // The end is the first day on which it no longer holds.
    if (
      !here(enrollment) ||
      !here(user) ||
      user.get('enabledUser') === 'false' ||
      (until !== '' && until <= today)
    ) {
      ended += 1;
      continue;
    }
    const role = enrollment.get('role');
    if (role === 'teacher') put(teachers, classId, `${user.get('givenName')} ${user.get('familyName')}`);
    if (role !== 'student') continue;
    if (!students.has(user.get('sourcedId'))) {
      say('role', 'Enrolled as a student, and no student by their role.');
      continue;
    }
    const row = studentOf(user, problems);
    if (row === null) continue;
    const own = `${classId}\n${row.studentNumber.toLowerCase()}`;
    const twin = numbers.get(own);
    if (twin !== undefined && twin !== row.sourcedId)
      problems.push({
        file: 'users.csv',
        line: row.line,
        field: FIELD_WORDS.student_number,
        message: 'Two people of one class have this number.',
      });
    else if (twin === undefined) put(rows, classId, row);
    numbers.set(own, row.sourcedId ?? '');
  }
  if (problems.length > 0) return { ok: false, problems: withoutRepeats(problems) };
  if (ended > 0)
    notes.push(
      `${ended} ${ended === 1 ? 'enrolment has' : 'enrolments have'} ended or ${ended === 1 ? 'is' : 'are'} marked to be deleted, and were left out.`,
    );
  const found = classes
    .filter(here)
    .map((one) => {
      const sourcedId = one.get('sourcedId');
      return {
        sourcedId,
        title: one.get('title').slice(0, 120),
        school: one.get('schoolSourcedId').slice(0, 255),
        term: (one.get('termSourcedIds').split(',')[0] ?? '').trim().slice(0, 255),
        rows: rows.get(sourcedId) ?? [],
        teachers: teachers.get(sourcedId) ?? [],
      };
    })
    .filter((one) => one.rows.length > 0);
  if (found.length === 0)
    return {
      ok: false,
      problems: [
        { file: 'enrollments.csv', line: 1, field: 'file', message: 'No class in this set has a student.' },
      ],
    };
  return { ok: true, classes: found, notes };
}

/** A student as they go on the roster: preferred names before the others, the number of the school before the username. */
function studentOf(user: OneRosterRecord, problems: LineProblem[]): RosterRow | null {
  const { row, problems: found } = checkStudent(user.line, {
    given_name: user.get('preferredGivenName') || user.get('givenName'),
    family_name: user.get('preferredFamilyName') || user.get('familyName'),
    student_number: user.get('identifier') || user.get('username'),
    email: user.get('email'),
  });
  problems.push(...found.map((one) => ({ ...one, file: 'users.csv' })));
  return row ? { ...row, sourcedId: user.get('sourcedId') } : null;
}

function put<T>(map: Map<string, T[]>, key: string, value: T): void {
  const there = map.get(key);
  if (there) there.push(value);
  else map.set(key, [value]);
}

/** Somebody in three classes is wrong three times; once is enough. */
function withoutRepeats(problems: readonly LineProblem[]): readonly LineProblem[] {
  return [...new Map(problems.map((one) => [JSON.stringify(one), one])).values()];
}
