import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
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
