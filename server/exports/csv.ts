import { type Options, stringify } from 'csv-stringify/sync';
import {
  type Competency,
  type PersonStanding,
  STATE_WORDS,
  type StandingState,
} from '../competencies/index.ts';
import type { AttemptSummary } from '../review/index.ts';
import type { SignOff } from '../sign-offs/index.ts';

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
  'since',
  'until',
  'sign_off_ids',
  'assessors',
  'countersigned_by',
  'gauge_numbers',
  'gauge_checks_due',
] as const;

export type RecordRow = Readonly<Record<(typeof COLUMNS)[number], string>>;

/** What of somebody's evidence goes out, besides where they stand. */
export interface RowEvidence {
  readonly attempts: readonly Pick<
    AttemptSummary,
    'id' | 'sectionName' | 'term' | 'points' | 'handedInAt' | 'gradedByEngine'
  >[];
  readonly signOffs: readonly Pick<SignOff, 'id' | 'gauge' | 'signatures'>[];
}

/** Who goes into the file: those who hold it, and those who meet the part on practice engines. */
export const EXPORTED: readonly StandingState[] = ['held', 'granted', 'practice'];

/**
 * One row for each student who holds it or meets the practice part, on the evidence that counts. Where there is more than one run or sign-off, the
 * entries of the columns about them stand in the same order, `; ` between.
 */
export function recordRows(
  competency: Competency,
  standings: readonly PersonStanding[],
  evidenceOf: (one: PersonStanding) => RowEvidence,
  asOf: string,
): RecordRow[] {
  return standings
    .filter(({ standing }) => EXPORTED.includes(standing.state))
    .map((one) => {
      const { attempts, signOffs } = evidenceOf(one);
      const { standing } = one;
      const each = <T>(all: readonly T[], of: (single: T) => string) => all.map(of).join('; ');
      const once = (of: (attempt: (typeof attempts)[number]) => string) =>
        [...new Set(attempts.map(of))].join('; ');
      const kinds = [
        attempts.length > 0 ? 'practice engine' : '',
        signOffs.length > 0 ? 'shop engine' : '',
        standing.state === 'granted' ? "coordinator's word" : '',
      ];
      const assessor = (role: string) =>
        each(signOffs, ({ signatures }) => signatures.find((signed) => signed.role === role)?.name ?? '');
      return {
        competency_code: competency.code,
        competency_title: competency.title,
        family_name: one.familyName,
        given_name: one.givenName,
        student_number: one.studentNumber,
        section: once(({ sectionName }) => sectionName),
        term: once(({ term }) => term),
        status: STATE_WORDS[standing.state],
        evidence_kind: kinds.filter((kind) => kind !== '').join('; '),
        rule_version: String(standing.ruleVersion ?? ''),
        attempt_ids: each(attempts, ({ id }) => id),
        points: each(attempts, ({ points }) => (points ?? 0).toFixed(1)),
        handed_in_at: each(attempts, ({ handedInAt }) => handedInAt ?? ''),
        graded_by_engine_version: each(attempts, ({ gradedByEngine }) => gradedByEngine ?? ''),
        shop_sign_offs: String(signOffs.length),
        as_of: asOf,
        since: standing.since ?? '',
        until: standing.until ?? '',
        sign_off_ids: each(signOffs, ({ id }) => id),
        assessors: assessor('assessor'),
        countersigned_by: assessor('countersigned'),
        gauge_numbers: each(signOffs, ({ gauge }) => gauge?.number ?? ''),
        gauge_checks_due: each(signOffs, ({ gauge }) => gauge?.dueOn ?? ''),
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
