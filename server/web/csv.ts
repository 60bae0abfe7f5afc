import Papa from 'papaparse';

type Row = readonly (string | number)[];

/** What a spreadsheet takes for a formula: full-width signs too, and signs after blanks. Source: OWASP, CSV injection. */
const FORMULA = /^\s*[=+\-@＝＋－＠]|^[\t\r\n]/;

/** Rows of a file for spreadsheets: text that would be taken for a formula has an apostrophe before it. Numbers are left alone. */
export function spreadsheetLines(rows: readonly Row[]): string {
  if (rows.length === 0) return '';
  return `${Papa.unparse(rows as (string | number)[][], { newline: '\r\n', escapeFormulae: FORMULA })}\r\n`;
}

/**
 * A whole file for spreadsheets: UTF-8 with a byte order mark and CRLF, so that one opens it as it is (RFC 4180 for the rest). Fields that are
 * no formula are left as they are: the file is also read by machine, and a student number with an apostrophe would be another number.
 */
export function spreadsheetCsv(columns: readonly string[], rows: readonly Row[]): string {
  return `\ufeff${spreadsheetLines([columns, ...rows])}`;
}

/** A file for machines: nothing is altered, and there is no byte order mark. */
export function machineCsv(rows: readonly Row[]): string {
  return `${Papa.unparse(rows as (string | number)[][], { newline: '\r\n' })}\r\n`;
}
