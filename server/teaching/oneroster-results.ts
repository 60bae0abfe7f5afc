import type { Kysely } from 'kysely';
import { ZipFile } from 'yazl';
import type { Database } from '../database/tables.ts';
import { machineCsv } from '../web/csv.ts';
import { localTimeOf } from '../web/local-time.ts';
import type { sectionScores } from './scores.ts';

export type OneRosterVersion = '1.1' | '1.2';

/** What the school's own system calls the section's class and its students, where they came from there. */
export interface NamesElsewhere {
  readonly classId: string;
  readonly schoolId: string;
  readonly termId: string;
  readonly students: ReadonlyMap<number, string>;
  /** How many students have no name there; they go by their student number. */
  readonly unknown: number;
}

/** The files a set may have, in the order of the standard. Source: OneRoster CSV binding 1.2; those of 1.1 from memory. */
const FILES: Readonly<Record<OneRosterVersion, readonly string[]>> = {
  '1.1': [
    ...['academicSessions', 'categories', 'classes', 'classResources', 'courses', 'courseResources'],
    ...['demographics', 'enrollments', 'lineItems', 'orgs', 'resources', 'results', 'users'],
  ],
  '1.2': [
    ...['academicSessions', 'categories', 'classes', 'classResources', 'courses', 'courseResources'],
    ...['demographics', 'enrollments', 'lineItemLearningObjectiveIds', 'lineItems', 'lineItemScoreScales'],
    ...['orgs', 'resources', 'resultLearningObjectiveIds', 'results', 'resultScoreScales', 'roles'],
    ...['scoreScales', 'userProfiles', 'userResources', 'users'],
  ],
};

/** Columns in the order of the standard. Source: OneRoster CSV binding 1.2 and its list of changes from 1.1. */
const LINE_ITEMS: Readonly<Record<OneRosterVersion, readonly string[]>> = {
  '1.1': [
    ...['sourcedId', 'status', 'dateLastModified', 'title', 'description', 'assignDate', 'dueDate'],
    ...['classSourcedId', 'categorySourcedId', 'gradingPeriodSourcedId', 'resultValueMin', 'resultValueMax'],
  ],
  '1.2': [
    ...['sourcedId', 'status', 'dateLastModified', 'title', 'description', 'assignDate', 'dueDate'],
    ...['classSourcedId', 'categorySourcedId', 'academicSessionSourcedId', 'resultValueMin'],
    ...['resultValueMax', 'schoolSourcedId'],
  ],
};
const RESULTS: Readonly<Record<OneRosterVersion, readonly string[]>> = {
  '1.1': [
    ...['sourcedId', 'status', 'dateLastModified', 'lineItemSourcedId', 'studentSourcedId', 'scoreStatus'],
    ...['score', 'scoreDate', 'comment'],
  ],
  '1.2': [
    ...['sourcedId', 'status', 'dateLastModified', 'lineItemSourcedId', 'studentSourcedId', 'scoreStatus'],
    ...['score', 'scoreDate', 'comment', 'textScore', 'classSourcedId', 'inProgress', 'incomplete', 'late'],
    'missing',
  ],
};
/** Which competency a result is evidence of; 1.2 alone. Source: OneRoster CSV binding 1.2. */
const OBJECTIVES = [
  ...['sourcedId', 'status', 'dateLastModified', 'resultSourcedId', 'source', 'learningObjectiveId'],
  ...['score', 'textScore'],
];
const CATEGORIES: Readonly<Record<OneRosterVersion, readonly string[]>> = {
  '1.1': ['sourcedId', 'status', 'dateLastModified', 'title'],
  '1.2': ['sourcedId', 'status', 'dateLastModified', 'title', 'weight'],
};

const CATEGORY = 'dialbench-lab-sheets';

/** What the section and its students are called elsewhere. The caller has made sure that the section is theirs. */
export async function namesElsewhere(
  db: Kysely<Database>,
  sectionId: number,
  roster: readonly { readonly id: number; readonly student_number: string }[],
): Promise<NamesElsewhere> {
  const section = await db
    .selectFrom('sections')
    .where('id', '=', sectionId)
    .select(['class_sourced_id', 'class_school_sourced_id', 'class_term_sourced_id'])
    .executeTakeFirstOrThrow();
  const people = await db
    .selectFrom('section_students as seat')
    .innerJoin('people', 'people.id', 'seat.person_id')
    .where('seat.section_id', '=', sectionId)
    .where('people.sourced_id', 'is not', null)
    .select(['people.id', 'people.sourced_id'])
    .execute();
  const known = new Map(people.map(({ id, sourced_id }) => [id, sourced_id ?? '']));
  return {
    classId: section.class_sourced_id ?? `dialbench-section-${sectionId}`,
    schoolId: section.class_school_sourced_id ?? 'dialbench-school',
    termId: section.class_term_sourced_id ?? `dialbench-term-of-section-${sectionId}`,
    students: new Map(
      roster.map(({ id, student_number }) => [id, known.get(id) ?? guidOf(`student-${student_number}`)]),
    ),
    unknown: roster.filter(({ id }) => !known.has(id)).length,
  };
}

/** Only letters, digits and . - _ / @ may stand in a name of the standard. */
function guidOf(text: string): string {
  return text
    .normalize('NFKD')
    .replaceAll(/[^A-Za-z0-9._/@-]/g, '_')
    .slice(0, 255);
}

type Scores = Awaited<ReturnType<typeof sectionScores>>;

/**
 * The files of a OneRoster set with the scores of a section: manifest, a category, one line item a lab sheet, one result a student and sheet; per
 * cent, to one decimal. What is not scored is `not submitted` in 1.2 and left out in 1.1, which asks for a score. A sheet without a due date gives the day of
 * the export for one, since the standard asks for a date. `now` is an instant, the days are by the clock of the section. Text is not
 * altered for spreadsheets: this is for machines. Source: OneRoster CSV binding 1.1 and 1.2.
 */
export function oneRosterFiles(
  version: OneRosterVersion,
  section: { readonly id: number; readonly timeZone: string },
  scores: Scores,
  names: NamesElsewhere,
  now: string,
  /** UUIDs of the competencies that a sheet holds evidence of, by its number. */
  objectives: ReadonlyMap<number, readonly string[]> = new Map(),
): ReadonlyMap<string, string> {
  const day = (at: string) => localTimeOf(at, section.timeZone).day;
  const lineItem = (sheetId: number) => `dialbench-section-${section.id}-sheet-${sheetId}`;
  const bulk = { status: '', dateLastModified: '' };
  const lineItems = scores.sheets.map((sheet) => ({
    ...bulk,
    sourcedId: lineItem(sheet.sheetId),
    title: sheet.title.replaceAll(/\s+/g, ' '),
    description: '',
    assignDate: day(sheet.assignedAt),
    dueDate: day(sheet.dueAt ?? now),
    classSourcedId: names.classId,
    categorySourcedId: CATEGORY,
    academicSessionSourcedId: names.termId,
    gradingPeriodSourcedId: names.termId,
    resultValueMin: '0.0',
    resultValueMax: '100.0',
    schoolSourcedId: names.schoolId,
  }));
  const results = scores.students.flatMap(({ personId, sheets }) =>
    sheets.flatMap(({ score, soFar }, index) => {
      const sheet = scores.sheets[index];
      const student = names.students.get(personId);
      if (sheet === undefined || student === undefined || (score === null && version === '1.1')) return [];
      return [
        {
          ...bulk,
          sourcedId: `${lineItem(sheet.sheetId)}-person-${personId}`,
          lineItemSourcedId: lineItem(sheet.sheetId),
          studentSourcedId: student,
          scoreStatus: score === null ? 'not submitted' : soFar ? 'partially graded' : 'fully graded',
          score: score === null ? '' : (Math.round(score * 10) / 10).toFixed(1),
          scoreDate: day(now),
          comment: '',
          textScore: '',
          classSourcedId: names.classId,
          inProgress: String(soFar),
          incomplete: '',
          late: '',
          missing: '',
          sheetId: sheet.sheetId,
        },
      ];
    }),
  );
  const tables: readonly (readonly [
    string,
    readonly string[],
    readonly Readonly<Record<string, string>>[],
  ])[] = [
    ['categories', CATEGORIES[version], [{ ...bulk, sourcedId: CATEGORY, title: 'Lab sheets', weight: '' }]],
    ['lineItems', LINE_ITEMS[version], lineItems],
    ...(version === '1.2'
      ? ([['resultLearningObjectiveIds', OBJECTIVES, objectiveRows(results, objectives)]] as const)
      : []),
    ['results', RESULTS[version], results.map(({ sheetId: _, ...row }) => row)],
  ];
  // A file without a row is not allowed, and is said to be absent.
  const there = tables.filter(([, , rows]) => rows.length > 0);
  const manifest = [
    ['propertyName', 'value'],
    ['manifest.version', '1.0'],
    ['oneroster.version', version],
    ...FILES[version].map((name) => [
      `file.${name}`,
      there.some(([file]) => file === name) ? 'bulk' : 'absent',
    ]),
    ['source.systemName', 'Dialbench'],
    ['source.systemCode', 'dialbench'],
  ];
  return new Map([
    ['manifest.csv', machineCsv(manifest)],
    ...there.map(([name, columns, rows]): [string, string] => [
      `${name}.csv`,
      machineCsv([columns, ...rows.map((row) => columns.map((column) => row[column] ?? ''))]),
    ]),
  ]);
}

function objectiveRows(
  results: readonly { readonly sourcedId: string; readonly sheetId: number; readonly score: string }[],
  objectives: ReadonlyMap<number, readonly string[]>,
) {
  return results
    .filter(({ score }) => score !== '')
    .flatMap(({ sourcedId, sheetId }) =>
      (objectives.get(sheetId) ?? []).map((uuid) => ({
        ...{ sourcedId: `${sourcedId}-${uuid}`, status: '', dateLastModified: '' },
        // The score is of the whole sheet, not of the competency, so none is given for it.
        ...{ resultSourcedId: sourcedId, source: 'case', learningObjectiveId: `urn:uuid:${uuid}` },
        ...{ score: '', textScore: '' },
      })),
    );
}

/** The files as one zip. `at` is the time written into it. */
export function zipped(files: ReadonlyMap<string, string>, at: Date): Promise<Buffer> {
  const zip = new ZipFile();
  for (const [name, text] of files) zip.addBuffer(Buffer.from(text, 'utf8'), name, { mtime: at });
  zip.end();
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    zip.outputStream.on('data', (part: Buffer) => parts.push(part));
    zip.outputStream.on('error', reject);
    zip.outputStream.on('end', () => resolve(Buffer.concat(parts)));
  });
}
