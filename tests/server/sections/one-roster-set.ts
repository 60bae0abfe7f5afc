import { ZipFile } from 'yazl';

/** The files of a OneRoster set, by name. All in it is invented. */
export type Files = Readonly<Record<string, string | Buffer>>;

const line = (...cells: readonly string[]) =>
  `${cells.map((cell) => (/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(',')}\r\n`;

/** A set of version 1.2 with two classes; three students in the first, one of them in the second too, and a teacher. */
export function set12(): Record<string, string> {
  return {
    'manifest.csv': [
      line('propertyName', 'value'),
      line('manifest.version', '1.0'),
      line('oneroster.version', '1.2'),
      ...['classes', 'users', 'roles', 'enrollments', 'orgs'].map((name) => line(`file.${name}`, 'bulk')),
      line('file.demographics', 'absent'),
    ].join(''),
    'orgs.csv':
      line('sourcedId', 'status', 'dateLastModified', 'name', 'type') +
      line('org-1', '', '', 'Harrow Vale Technical College', 'school'),
    'classes.csv':
      line(
        'sourcedId',
        'status',
        'dateLastModified',
        'title',
        'grades',
        'courseSourcedId',
        'classCode',
        'classType',
        'location',
        'schoolSourcedId',
        'termSourcedIds',
      ) +
      line(
        'class-1',
        '',
        '',
        'Fuel systems, morning',
        '',
        'course-1',
        'FS1',
        'scheduled',
        '',
        'org-1',
        'term-1',
      ) +
      line(
        'class-2',
        '',
        '',
        'Fuel systems, evening',
        '',
        'course-1',
        'FS2',
        'scheduled',
        '',
        'org-1',
        'term-1',
      ),
    'users.csv':
      line(
        'sourcedId',
        'status',
        'dateLastModified',
        'enabledUser',
        'username',
        'userIds',
        'givenName',
        'familyName',
        'middleName',
        'identifier',
        'email',
        'password',
        'preferredGivenName',
      ) +
      line(
        'user-1',
        '',
        '',
        'true',
        'aokonjo',
        '',
        'Adaeze',
        'Okonjo-Brandt',
        '',
        '004117',
        'a.okonjo@students.example',
        'never-read',
        '',
      ) +
      line('user-2', '', '', 'true', 'jng', '', 'Joanna', 'Ng', '', '004122', '', '', 'Jo') +
      line('user-3', '', '', 'true', 'dvasilenko', '', 'Dmitri', 'Vasilenko, Jr.', '', '', '', '', '') +
      line('user-9', '', '', 'true', 'lteach', '', 'Lourdes', 'Teague', '', '', '', '', ''),
    'roles.csv':
      line(
        'sourcedId',
        'status',
        'dateLastModified',
        'userSourcedId',
        'roleType',
        'role',
        'beginDate',
        'endDate',
        'orgSourcedId',
      ) +
      ['user-1', 'user-2', 'user-3']
        .map((user) => line(`role-${user}`, '', '', user, 'primary', 'student', '', '', 'org-1'))
        .join('') +
      line('role-9', '', '', 'user-9', 'primary', 'teacher', '', '', 'org-1'),
    'enrollments.csv':
      line(
        'sourcedId',
        'status',
        'dateLastModified',
        'classSourcedId',
        'schoolSourcedId',
        'userSourcedId',
        'role',
        'primary',
        'beginDate',
        'endDate',
      ) +
      ['user-1', 'user-2', 'user-3']
        .map((user) =>
          line(`enr-${user}`, '', '', 'class-1', 'org-1', user, 'student', '', '2026-09-01', '2027-01-31'),
        )
        .join('') +
      line('enr-4', '', '', 'class-2', 'org-1', 'user-2', 'student', '', '', '') +
      line('enr-9', '', '', 'class-1', 'org-1', 'user-9', 'teacher', 'true', '', ''),
  };
}

/** The same of version 1.1: roles stand in users.csv. */
export function set11(): Record<string, string> {
  const { 'roles.csv': _, ...files } = set12();
  return {
    ...files,
    'manifest.csv': (files['manifest.csv'] ?? '')
      .replace('oneroster.version,1.2', 'oneroster.version,1.1')
      .replace('file.roles,bulk\r\n', ''),
    'users.csv':
      line(
        'sourcedId',
        'status',
        'dateLastModified',
        'enabledUser',
        'orgSourcedIds',
        'role',
        'username',
        'userIds',
        'givenName',
        'familyName',
        'middleName',
        'identifier',
        'email',
      ) +
      line(
        'user-1',
        '',
        '',
        'true',
        'org-1',
        'student',
        'aokonjo',
        '',
        'Adaeze',
        'Okonjo-Brandt',
        '',
        '004117',
        'a.okonjo@students.example',
      ) +
      line('user-2', '', '', 'true', 'org-1', 'student', 'jng', '', 'Jo', 'Ng', '', '004122', '') +
      line(
        'user-3',
        '',
        '',
        'true',
        'org-1',
        'student',
        'dvasilenko',
        '',
        'Dmitri',
        'Vasilenko, Jr.',
        '',
        '',
        '',
      ) +
      line('user-9', '', '', 'true', 'org-1', 'teacher', 'lteach', '', 'Lourdes', 'Teague', '', '', ''),
  };
}

/** Files in a zip. */
export function zipped(files: Files): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const zip = new ZipFile();
    for (const [name, text] of Object.entries(files)) zip.addBuffer(Buffer.from(text), name);
    zip.end();
    const parts: Buffer[] = [];
    zip.outputStream.on('data', (part: Buffer) => parts.push(part));
    zip.outputStream.on('end', () => resolve(Buffer.concat(parts)));
    zip.outputStream.on('error', reject);
  });
}
