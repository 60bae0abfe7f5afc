import { PassThrough } from 'node:stream';
import type { Kysely } from 'kysely';
import type { Competency } from '../competencies/index.ts';
import type { Store } from '../database/open.ts';
import type { Database } from '../database/tables.ts';
import { spreadsheetCsv, spreadsheetLines } from '../web/csv.ts';
import { EVIDENCE_COLUMNS, runLines, signOffLines } from './evidence-lines.ts';
import { jsonPieces } from './json.ts';
import { personRecords } from './record.ts';
import { STANDING_COLUMNS, standingRows, wideColumns, wideRow } from './standing-rows.ts';

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
}

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
  pieces(source: ExportSource): AsyncIterable<Piece>;
}

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
    pieces: (source) => csvPieces(EVIDENCE_COLUMNS, evidenceBatches(source)),
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

async function* evidenceBatches(source: ExportSource) {
  const { store, db, competencies, asOf, everybody } = source;
  const wanted = { competencies, asOf, studentIds: everybody ? null : source.studentIds };
  yield* runLines(store, wanted);
  yield await signOffLines(db, wanted);
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
