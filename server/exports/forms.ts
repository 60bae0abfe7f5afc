import { PassThrough } from 'node:stream';
import type { Kysely } from 'kysely';
import { type Competency, casePackage } from '../competencies/index.ts';
import { keyAddress, type SigningKeys } from '../credentials/index.ts';
import type { Store } from '../database/open.ts';
import type { Database } from '../database/tables.ts';
import type { Program } from '../program/index.ts';
import { oneRosterSet } from '../teaching/index.ts';
import { spreadsheetCsv, spreadsheetLines } from '../web/csv.ts';
import { badgeOf } from './badge.ts';
import { EVIDENCE_COLUMNS, runLines, signOffLines } from './evidence-lines.ts';
import { jsonPieces } from './json.ts';
import { personRecords } from './record.ts';
import { STANDING_COLUMNS, standingRows, wideColumns, wideRow } from './standing-rows.ts';
import { runStatements, signOffStatements } from './statements.ts';

/** What an export is made of. */
export interface ExportSource {
  readonly store: Store;
  readonly db: Kysely<Database>;
  readonly competencies: readonly Competency[];
  readonly asOf: string;
  readonly studentIds: readonly number[];
  /** Everybody of the program is in `studentIds`. */
  readonly everybody: boolean;
  readonly exportedAt: string;
  readonly exportId: number;
  /** Of one section; null for others. */
  readonly sectionId: number | null;
  readonly program: Program;
  /** Where others reach this server. */
  readonly address: string;
  readonly signingKeys: SigningKeys;
}

/** What files of the record alone are made of. */
export type RecordSource = Omit<ExportSource, 'sectionId' | 'program' | 'address' | 'signingKeys'>;

/** A piece of a file, and how many rows of it there are in it. */
export interface Piece {
  readonly text: string | Buffer;
  readonly rows: number;
}

export interface ExportForm {
  readonly words: string;
  /** What it is good for. */
  readonly hint: string;
  readonly type: string;
  readonly extension: string;
  /** A section, as it is now; or it holds nobody's record. */
  readonly needs?: 'section' | 'nobody';
  pieces(source: ExportSource): AsyncIterable<Piece>;
}

const JSON_LINES = { type: 'application/jsonl; charset=utf-8', extension: 'jsonl' };
const CSV = { type: 'text/csv; charset=utf-8', extension: 'csv' };

export const FORMS = {
  standings: {
    ...CSV,
    words: 'CSV, a line for each competency that somebody holds',
    hint: 'Who holds what, since when, on which evidence.',
    pieces: (source) => csvPieces(STANDING_COLUMNS, standingBatches(source)),
  },
  evidence: {
    ...CSV,
    words: 'CSV, a line for each piece of evidence',
    hint: 'Every graded run and every sign-off, those that count and those that do not.',
    pieces: (source: RecordSource) => csvPieces(EVIDENCE_COLUMNS, evidenceBatches(source)),
  },
  wide: {
    ...CSV,
    words: 'CSV, a line for each student',
    hint: 'A table of students and competencies, as in the matrix.',
    pieces: (source) => csvPieces(wideColumns(source.competencies), wideBatches(source)),
  },
  json: {
    words: 'JSON',
    hint: 'All of it with the rules in force, for other programs.',
    type: 'application/json; charset=utf-8',
    extension: 'json',
    pieces: jsonPieces,
  },
  badges: {
    ...JSON_LINES,
    words: 'Open Badges 3.0, signed',
    hint: 'One credential for each competency that somebody holds, as VC-JWT, a line each. Whoever is given one can check it with the public key that it names.',
    pieces: badgePieces,
  },
  statements: {
    ...JSON_LINES,
    words: 'xAPI statements',
    hint: 'Every graded run and every sign-off, a line each. People go by a number that says nothing of them.',
    pieces: statementPieces,
  },
  oneroster: {
    words: 'OneRoster 1.2 results of a section',
    hint: 'Scores of lab sheets as they stand now, with the competencies that each sheet is evidence of.',
    type: 'application/zip',
    extension: 'zip',
    needs: 'section',
    pieces: oneRosterPieces,
  },
  framework: {
    words: 'CASE, the competencies themselves',
    hint: 'What is certified, for other programs. Nobody’s record is in it.',
    type: 'application/json; charset=utf-8',
    extension: 'json',
    needs: 'nobody',
    pieces: frameworkPieces,
  },
} as const satisfies Record<string, ExportForm>;

export type FormName = keyof typeof FORMS;

export const FORM_NAMES = Object.keys(FORMS) as [FormName, ...FormName[]];

/** A CSV file of rows that come a batch at a time, each in the order of the columns. Only the first piece has the headings. */
export async function* csvPieces(
  columns: readonly string[],
  batches: AsyncIterable<readonly (readonly (string | number)[])[]>,
): AsyncGenerator<Piece> {
  yield { text: spreadsheetCsv(columns, []), rows: 0 };
  for await (const batch of batches) yield { text: spreadsheetLines(batch), rows: batch.length };
}

async function* standingBatches({ db, competencies, asOf, studentIds }: ExportSource) {
  for await (const people of personRecords(db, competencies, asOf, studentIds))
    yield people.flatMap((one) =>
      standingRows(one, asOf).map((row) => STANDING_COLUMNS.map((column) => row[column])),
    );
}

async function* wideBatches({ db, competencies, asOf, studentIds }: ExportSource) {
  for await (const people of personRecords(db, competencies, asOf, studentIds))
    yield people.map((one) => wideRow(one, asOf));
}

async function* evidenceBatches(source: RecordSource) {
  const { store, db, competencies, asOf, everybody } = source;
  const wanted = { competencies, asOf, studentIds: everybody ? null : source.studentIds };
  yield* runLines(store, wanted);
  yield await signOffLines(db, wanted);
}

async function* badgePieces(source: ExportSource): AsyncGenerator<Piece> {
  const { db, competencies, asOf, studentIds, program, address, signingKeys } = source;
  const uuids = await db.selectFrom('people').where('role', '=', 'student').select(['id', 'uuid']).execute();
  const uuidOf = new Map(uuids.map(({ id, uuid }) => [id, uuid]));
  for await (const people of personRecords(db, competencies, asOf, studentIds)) {
    const lines: string[] = [];
    for (const { person, standings } of people) {
      const { studentId, studentNumber } = person;
      const name = `${person.givenName} ${person.familyName}`;
      const subject = { uuid: uuidOf.get(studentId) ?? '', name, studentNumber };
      for (const standing of standings) {
        const badge = badgeOf(standing, subject, { program, address, asOf });
        if (badge === null) continue;
        const jwt = await signingKeys.sign(badge, (keyId) => keyAddress(address, keyId));
        lines.push(JSON.stringify({ studentNumber, name, competency: standing.competency.code, jwt }));
      }
    }
    yield linesPiece(lines);
  }
}

async function* statementPieces(source: ExportSource): AsyncGenerator<Piece> {
  const { store, db, competencies, asOf, everybody, address } = source;
  const wanted = { competencies, asOf, studentIds: everybody ? null : source.studentIds, address };
  for await (const some of runStatements(store, wanted))
    yield linesPiece(some.map((one) => JSON.stringify(one)));
  yield linesPiece((await signOffStatements(db, wanted)).map((one) => JSON.stringify(one)));
}

async function* oneRosterPieces({ db, sectionId, competencies, exportedAt }: ExportSource) {
  if (sectionId === null) throw new Error('OneRoster results are of one section');
  const { zip, rows } = await oneRosterSet(db, { version: '1.2', sectionId, competencies, at: exportedAt });
  yield { text: zip, rows };
}

async function* frameworkPieces({ competencies, program, address }: ExportSource): AsyncGenerator<Piece> {
  const text = JSON.stringify(casePackage(competencies, program, address), null, 2);
  yield { text: `${text}\n`, rows: competencies.length };
}

function linesPiece(lines: readonly string[]): Piece {
  return { text: lines.map((line) => `${line}\n`).join(''), rows: lines.length };
}

/** Pieces as a stream that waits for its reader. What goes wrong on the way cuts it off, so that nobody takes half a file for a whole one. */
export function streamOf(pieces: AsyncIterable<Piece>, ended: (rows: number) => Promise<void>) {
  const stream = new PassThrough();
  const write = async () => {
    let rows = 0;
    for await (const piece of pieces) {
      rows += piece.rows;
      if (stream.destroyed) return;
      if (!stream.write(piece.text)) await once(stream);
    }
    await ended(rows);
    stream.end();
  };
  write().catch((error: Error) => stream.destroy(error));
  return stream;
}

/** Until there is room again, or nobody reads any more. */
function once(stream: PassThrough): Promise<void> {
  return new Promise((resolve) => {
    const done = () => {
      stream.off('drain', done);
      stream.off('close', done);
      resolve();
    };
    stream.on('drain', done);
    stream.on('close', done);
  });
}
