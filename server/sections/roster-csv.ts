import { CsvError, parse } from 'csv-parse/sync';
import { checkStudent, FIELD_WORDS, FIELDS, type Field, type RosterRow } from './roster-row.ts';
import { delimiterOf } from './roster-text.ts';

/** What is wrong with one line of the file, as a person counts lines in an editor. */
export interface LineProblem {
  /** Of several files, the one it stands in. */
  readonly file?: string;
  readonly line: number;
  readonly field: string;
  readonly message: string;
}

export type RosterFile =
  | { readonly ok: true; readonly rows: readonly RosterRow[]; readonly notes: readonly string[] }
  | { readonly ok: false; readonly problems: readonly LineProblem[]; readonly notes: readonly string[] };

/** More than any school's section; a longer file is some other list. */
const MOST_ROWS = 2000;

/** Reads a whole roster. Every bad line is named, not only the first; with one bad line there are no rows. */
export function readRosterCsv(text: string): RosterFile {
  const records = splitRecords(text.replace(/^\uFEFF/, ''));
  if (!Array.isArray(records)) return { ok: false, problems: [records], notes: [] };
  const [header, ...body] = records.filter((record) => record.cells.some((cell) => cell.trim() !== ''));
  if (!header)
    return refuse({
      line: 1,
      field: 'file',
      message: 'There is nothing in it. The first line holds the headings.',
    });

  const columns = readHeader(header);
  if (columns.problems.length > 0) return { ok: false, problems: columns.problems, notes: columns.notes };
  if (body.length === 0) {
    return refuse({
      line: header.line + 1,
      field: 'file',
      message: 'There are headings, but no students below them.',
    });
  }
  if (body.length > MOST_ROWS) {
    return refuse({
      line: MOST_ROWS + 2,
      field: 'file',
      message: `A roster holds at most ${MOST_ROWS} students.`,
    });
  }

  const problems: LineProblem[] = [];
  const rows: RosterRow[] = [];
  const lineOfNumber = new Map<string, number>();
  for (const record of body) {
    const cells = columns.pick(record.cells);
    const { row, problems: found } = checkStudent(record.line, cells);
    problems.push(...found);
    if (record.cells.slice(header.cells.length).some((cell) => cell.trim() !== '')) {
      const message =
        'There are more fields than headings. Put a name that holds the separator in quotation marks.';
      problems.push({ line: record.line, field: 'line', message });
    }
    const key = cells.student_number.trim().toLowerCase();
    const earlier = lineOfNumber.get(key);
    if (earlier !== undefined) {
      const message = `This repeats the student number of line ${earlier}.`;
      problems.push({ line: record.line, field: FIELD_WORDS.student_number, message });
    } else if (key !== '') lineOfNumber.set(key, record.line);
    if (row) rows.push(row);
  }
  if (problems.length > 0) return { ok: false, problems, notes: columns.notes };
  return { ok: true, rows, notes: columns.notes };
}

function refuse(problem: LineProblem): RosterFile {
  return { ok: false, problems: [problem], notes: [] };
}

export interface Line {
  readonly line: number;
  readonly cells: readonly string[];
}

/** Splits the text into records, each with the line it begins on: a quoted field may run over several. */
export function splitRecords(text: string): Line[] | LineProblem {
  let endsBefore = 0;
  const headerLine = /^[\r\n]*([^\r\n]*)/.exec(text)?.[1] ?? '';
  try {
    const found = parse(text, {
      delimiter: delimiterOf(headerLine),
      relax_column_count: true,
      // A quotation mark inside an unquoted name is part of the name.
      relax_quotes: true,
      raw: true,
      on_record: (record, context) => {
        endsBefore = context.lines;
        return record;
      },
    }) as unknown as { record: string[]; raw: string }[];
    let line = 1;
    return found.map(({ record, raw }) => {
      const begins = line;
      line += raw.match(/\r\n|\r|\n/g)?.length ?? 0;
      return { line: begins, cells: record };
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    // The parser names the end of the file; the mark stands in the record after the last good one.
    const message = 'A quotation mark is opened here and never closed. Close it, or take it out.';
    return { line: endsBefore + 1, field: 'line', message };
  }
}

interface Columns {
  readonly problems: LineProblem[];
  readonly notes: string[];
  pick(cells: readonly string[]): Record<Field, string>;
}

/** Finds the columns by their headings, in any order and any letter case. */
function readHeader(header: Line): Columns {
  const headings = header.cells.map((cell) =>
    cell
      .trim()
      .toLowerCase()
      .replace(/[\s-]+/g, '_'),
  );
  const problems: LineProblem[] = [];
  for (const field of FIELDS) {
    const count = headings.filter((heading) => heading === field).length;
    if (count === 0 && field !== 'email') {
      problems.push({ line: header.line, field: 'headings', message: `The heading ${field} is missing.` });
    }
    if (count > 1) {
      problems.push({
        line: header.line,
        field: 'headings',
        message: `The heading ${field} is there ${count} times.`,
      });
    }
  }
  const others = header.cells.filter((_, index) => {
    const heading = headings[index] ?? '';
    return heading !== '' && !(FIELDS as readonly string[]).includes(heading);
  });
  const notes =
    others.length === 0 ? [] : [`Not used: the columns ${others.map((name) => name.trim()).join(', ')}.`];
  const cellOf = (cells: readonly string[], field: Field) => cells[headings.indexOf(field)] ?? '';
  return {
    problems,
    notes,
    pick: (cells) => ({
      given_name: cellOf(cells, 'given_name'),
      family_name: cellOf(cells, 'family_name'),
      student_number: cellOf(cells, 'student_number'),
      email: cellOf(cells, 'email'),
    }),
  };
}
