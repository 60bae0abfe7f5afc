import { type Kysely, sql } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { GaugeTaken } from './queries.ts';
import type { Outcome } from './rules.ts';

/** A sign-off that counts: whose, of which item, passed or not, by whose word. */
export interface SignedEvidence {
  readonly id: string;
  readonly itemId: number;
  readonly studentId: number;
  /** When it began to count: its arrival here, or that of the countersignature where a substitute signed. */
  readonly at: string;
  readonly passed: boolean;
}

/** Every sign-off of these items that counts by `asOf`, oldest first; of these students alone where they are given. */
export async function listSignedEvidence(
  db: Kysely<Database>,
  itemIds: readonly number[],
  asOf: string,
  studentIds?: readonly number[],
): Promise<readonly SignedEvidence[]> {
  if (itemIds.length === 0 || studentIds?.length === 0) return [];
  let query = db
    .selectFrom('sign_offs as one')
    .innerJoin('sign_off_signatures as signed', (join) =>
      join.onRef('signed.sign_off_id', '=', 'one.id').on('signed.role', '=', 'assessor'),
    )
    .innerJoin('people as signer', 'signer.id', 'signed.person_id')
    .leftJoin('sign_off_signatures as counter', (join) =>
      join.onRef('counter.sign_off_id', '=', 'one.id').on('counter.role', '=', 'countersigned'),
    )
    .where('one.item_id', 'in', itemIds)
    .select([
      ...(['one.id', 'one.item_id', 'one.student_id', 'signed.outcome'] as const),
      ...([
        'signed.arrived_at as signedAt',
        'signer.substitute_until',
        'counter.arrived_at as counteredAt',
      ] as const),
    ]);
  if (studentIds !== undefined) query = query.where('one.student_id', 'in', studentIds);
  const rows = await query.execute();
  return rows
    .flatMap((row): SignedEvidence[] => {
      const at = row.substitute_until === null ? row.signedAt : row.counteredAt;
      if (at === null || row.outcome === null || at > asOf) return [];
      const { passed } = JSON.parse(row.outcome) as Outcome;
      return [{ id: row.id, itemId: row.item_id, studentId: row.student_id, at, passed }];
    })
    .sort((one, other) => (one.at < other.at ? -1 : one.at > other.at ? 1 : one.id < other.id ? -1 : 1));
}

/** Identifiers of the sign-offs of one student begun by an instant, oldest first. The caller has made sure that they are theirs to see. */
export async function listSignOffsOf(
  db: Kysely<Database>,
  studentId: number,
  asOf: string,
): Promise<readonly string[]> {
  const rows = await db
    .selectFrom('sign_offs')
    .where('student_id', '=', studentId)
    .where('started_at', '<=', asOf)
    .select('id')
    .orderBy('started_at')
    .execute();
  return rows.map(({ id }) => id);
}

/** What a file says of a sign-off besides whether it is passed. */
export interface SignOffFacts {
  readonly familyName: string;
  readonly givenName: string;
  readonly studentNumber: string;
  readonly section: string;
  readonly term: string;
  readonly item: string;
  readonly assessor: string;
  /** `instructor`, or `substitute, countersigned`; with the ground on which they might sign that day, where the register has one. */
  readonly assessorStanding: string;
  readonly countersignedBy: string;
  readonly gauge: GaugeTaken | null;
  readonly wrench: GaugeTaken | null;
}

/** These sign-offs, by their identifier. The caller has made sure that they are theirs to see. */
export async function listSignOffFacts(
  db: Kysely<Database>,
  ids: readonly string[],
): Promise<ReadonlyMap<string, SignOffFacts>> {
  const rows = await db
    .selectFrom('sign_offs as one')
    .innerJoin('people as student', 'student.id', 'one.student_id')
    .innerJoin('sections as section', 'section.id', 'one.section_id')
    .innerJoin('lab_sheet_items as item', 'item.id', 'one.item_id')
    .leftJoin('sign_off_signatures as signed', (join) =>
      join.onRef('signed.sign_off_id', '=', 'one.id').on('signed.role', '=', 'assessor'),
    )
    .leftJoin('people as signer', 'signer.id', 'signed.person_id')
    .leftJoin('sign_off_signatures as counter', (join) =>
      join.onRef('counter.sign_off_id', '=', 'one.id').on('counter.role', '=', 'countersigned'),
    )
    .leftJoin('people as counterer', 'counterer.id', 'counter.person_id')
    .where(sql<boolean>`one.id IN (SELECT value FROM json_each(${JSON.stringify(ids)}))`)
    .select([
      ...(['one.id', 'one.gauges', 'section.name as section', 'section.term', 'item.title'] as const),
      ...([
        'student.family_name as studentFamily',
        'student.given_name as studentGiven',
        'student.student_number',
      ] as const),
      ...(['signer.family_name as signerFamily', 'signer.given_name as signerGiven'] as const),
      'signer.substitute_until',
      sql<
        string | null
      >`(SELECT basis FROM assessor_entries e WHERE e.person_id = signed.person_id AND e.from_on <= substr(signed.made_at, 1, 10)
        AND (e.until_on IS NULL OR e.until_on >= substr(signed.made_at, 1, 10)) ORDER BY e.id DESC LIMIT 1)`.as(
        'basis',
      ),
      ...(['counterer.family_name as counterFamily', 'counterer.given_name as counterGiven'] as const),
    ])
    .execute();
  const name = (given: string | null, family: string | null) =>
    given === null ? '' : `${given} ${family ?? ''}`;
  return new Map(
    rows.map((row) => [
      row.id,
      {
        ...{ familyName: row.studentFamily, givenName: row.studentGiven },
        ...{ studentNumber: row.student_number ?? '', section: row.section, term: row.term, item: row.title },
        assessor: name(row.signerGiven, row.signerFamily),
        assessorStanding: standingThen(row),
        countersignedBy: name(row.counterGiven, row.counterFamily),
        ...(JSON.parse(row.gauges) as { gauge: GaugeTaken | null; wrench: GaugeTaken | null }),
      },
    ]),
  );
}

function standingThen(row: {
  readonly signerGiven: string | null;
  readonly substitute_until: string | null;
  readonly counterGiven: string | null;
  readonly basis: string | null;
}): string {
  if (row.signerGiven === null) return '';
  const role =
    row.substitute_until === null
      ? 'instructor'
      : row.counterGiven === null
        ? 'substitute'
        : 'substitute, countersigned';
  return row.basis === null ? role : `${role}, ${row.basis}`;
}
