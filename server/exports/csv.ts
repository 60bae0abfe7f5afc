import { type Options, stringify } from 'csv-stringify/sync';
import type { Competency, Standing } from '../competencies/index.ts';

/** The columns of the file, in order. Added to at the end, never moved: others read it by machine. */
export const COLUMNS = [
  'competency_code',
  'competency_title',
  'family_name',
  'given_name',
  'student_number',
  'section',
  'term',
  'status',
  'evidence_kind',
  'rule_version',
  'attempt_ids',
  'points',
  'handed_in_at',
  'graded_by_engine_version',
  'shop_sign_offs',
  'as_of',
] as const;

export type RecordRow = Readonly<Record<(typeof COLUMNS)[number], string>>;

/**
 * One row for each student who meets the simulated part, on the runs that count. Where there are several, the entries of
 * attempt_ids, points, handed_in_at and graded_by_engine_version stand in the same order, `; ` between.
 */
export function recordRows(competency: Competency, standings: readonly Standing[], now: Date): RecordRow[] {
  return standings
    .filter(({ decision }) => decision.meetsSimulatedPart)
    .map(({ familyName, givenName, studentNumber, attempts, decision }) => {
      const counting = decision.counting.flatMap((id) => attempts.find((attempt) => attempt.id === id) ?? []);
      const each = (of: (attempt: (typeof counting)[number]) => string) => counting.map(of).join('; ');
      const once = (of: (attempt: (typeof counting)[number]) => string) =>
        [...new Set(counting.map(of))].join('; ');
      return {
        competency_code: competency.code,
        competency_title: competency.title,
        family_name: familyName,
        given_name: givenName,
        student_number: studentNumber,
        section: once(({ sectionName }) => sectionName),
        term: once(({ term }) => term),
        status: 'Meets the simulated part',
        evidence_kind: 'practice engine',
        rule_version: String(competency.ruleVersion),
        attempt_ids: each(({ id }) => id),
        points: each(({ points }) => (points ?? 0).toFixed(1)),
        handed_in_at: each(({ handedInAt }) => handedInAt ?? ''),
        graded_by_engine_version: each(({ gradedByEngine }) => gradedByEngine ?? ''),
        // No sign-off is kept yet: shop engines are not part of this version.
        shop_sign_offs: '0',
        as_of: now.toISOString(),
      };
    });
}

/**
 * The file: UTF-8 with a byte order mark and CRLF, so that a spreadsheet opens it as it is (RFC 4180 for the rest).
 * `escape_formulas` puts an apostrophe before a field that a spreadsheet would take for a formula; it looks at the first
 * character alone, so fields with blanks before the sign are given theirs here. Other fields are left as they are: the
 * file is also read by machine, and a student number with an apostrophe would be another number. All text is quoted.
 */
export const SPREADSHEET: Options = {
  header: true,
  bom: true,
  record_delimiter: 'windows',
  quoted_string: true,
  escape_formulas: true,
  cast: { string: (text) => (/^\s+[=+\-@＝＋－＠]/.test(text) ? `'${text}` : text) },
};

export function recordCsv(rows: readonly RecordRow[]): string {
  return stringify([...rows], { ...SPREADSHEET, columns: [...COLUMNS] });
}
