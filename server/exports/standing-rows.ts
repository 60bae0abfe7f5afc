import { type Competency, STATE_WORDS, type StandingState } from '../competencies/index.ts';
import type { PersonRecord, RecordedStanding } from './record.ts';

/** Who goes into the file of standings: those who hold it, and those who meet the part on practice engines. */
const SHOWN: readonly StandingState[] = ['held', 'granted', 'practice'];

/** The columns of the file of standings, in order. Added to at the end, never moved: others read it by machine. */
export const STANDING_COLUMNS = [
  ...(['competency_code', 'competency_title', 'family_name', 'given_name', 'student_number'] as const),
  ...(['section', 'term', 'status', 'evidence_kind', 'rule_version', 'attempt_ids', 'points'] as const),
  ...(['handed_in_at', 'graded_by_engine_version', 'shop_sign_offs', 'as_of', 'since', 'until'] as const),
  ...(['sign_off_ids', 'assessors', 'countersigned_by', 'gauge_numbers', 'gauge_checks_due'] as const),
  ...(['assessor_standings', 'wrench_numbers', 'wrench_checks_due'] as const),
] as const;

export type StandingRow = Readonly<Record<(typeof STANDING_COLUMNS)[number], string>>;

/**
 * One row for each competency that somebody holds or meets the practice part of, on the evidence that counts. Where there is more than one run or
 * sign-off, the entries of the columns about them stand in the same order, `; ` between.
 */
export function standingRows({ person, standings }: PersonRecord, asOf: string): readonly StandingRow[] {
  return standings
    .filter(({ standing }) => SHOWN.includes(standing.state))
    .map(({ competency, standing, runs, signOffs }) => {
      const each = <T>(all: readonly T[], of: (one: T) => string) => all.map(of).join('; ');
      const once = (of: (run: (typeof runs)[number]) => string) => [...new Set(runs.map(of))].join('; ');
      return {
        competency_code: competency.code,
        competency_title: competency.title,
        family_name: person.familyName,
        given_name: person.givenName,
        student_number: person.studentNumber,
        section: once(({ sectionName }) => sectionName),
        term: once(({ term }) => term),
        status: STATE_WORDS[standing.state],
        evidence_kind: kindsOf({ standing, runs, signOffs }),
        rule_version: String(standing.ruleVersion ?? ''),
        attempt_ids: each(runs, ({ id }) => id),
        points: each(runs, ({ points }) => points.toFixed(1)),
        handed_in_at: each(runs, ({ at }) => at),
        graded_by_engine_version: each(runs, ({ gradedByEngine }) => gradedByEngine),
        shop_sign_offs: String(signOffs.length),
        as_of: asOf,
        since: standing.since ?? '',
        until: standing.until ?? '',
        sign_off_ids: each(signOffs, ({ id }) => id),
        assessors: each(signOffs, ({ facts }) => facts.assessor),
        countersigned_by: each(signOffs, ({ facts }) => facts.countersignedBy),
        gauge_numbers: each(signOffs, ({ facts }) => facts.gauge?.number ?? ''),
        gauge_checks_due: each(signOffs, ({ facts }) => facts.gauge?.dueOn ?? ''),
        assessor_standings: each(signOffs, ({ facts }) => facts.assessorStanding),
        wrench_numbers: each(signOffs, ({ facts }) => facts.wrench?.number ?? ''),
        wrench_checks_due: each(signOffs, ({ facts }) => facts.wrench?.dueOn ?? ''),
      };
    });
}

/** `practice engine; shop engine` */
export function kindsOf({
  standing,
  runs,
  signOffs,
}: Pick<RecordedStanding, 'standing' | 'runs' | 'signOffs'>): string {
  return [
    runs.length > 0 ? 'practice engine' : '',
    signOffs.length > 0 ? 'shop engine' : '',
    standing.state === 'granted' ? "coordinator's word" : '',
  ]
    .filter((kind) => kind !== '')
    .join('; ');
}

/** The columns of the wide file: one student a row, four columns a competency. */
export function wideColumns(competencies: readonly Competency[]): readonly string[] {
  return [
    ...['family_name', 'given_name', 'student_number', 'as_of'],
    ...competencies.flatMap(({ code }) =>
      ['status', 'since', 'until', 'rule_version', 'evidence_kind'].map((name) => `${code} ${name}`),
    ),
  ];
}

/** One student as a row of the wide file. */
export function wideRow({ person, standings }: PersonRecord, asOf: string): readonly string[] {
  return [
    ...[person.familyName, person.givenName, person.studentNumber, asOf],
    ...standings.flatMap((one) => [
      STATE_WORDS[one.standing.state],
      one.standing.since ?? '',
      one.standing.until ?? '',
      String(one.standing.ruleVersion ?? ''),
      kindsOf(one),
    ]),
  ];
}
