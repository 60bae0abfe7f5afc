import { type Kysely, sql, type Transaction } from 'kysely';
import { displayName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';

/** Somebody who may sign, or who signed. */
export interface Assessor {
  readonly id: number;
  readonly name: string;
  /** `instructor`, or `substitute until 3 Oct 2026`. */
  readonly substituteUntil: string | null;
  /** Newest first. */
  readonly entries: readonly {
    readonly basis: string;
    readonly fromOn: string;
    readonly untilOn: string | null;
  }[];
  readonly signed: number;
  readonly firstSigned: string | null;
  readonly lastSigned: string | null;
  /** Sign-offs on days that no entry covers. */
  readonly uncovered: number;
}

/** Instructors with the ground on which each may sign, and what each signed. A signature counts as covered where any entry held on its day. */
export async function assessorRegister(db: Kysely<Database>): Promise<readonly Assessor[]> {
  const people = await db
    .selectFrom('people')
    .where('role', '=', 'instructor')
    .select(['id', 'given_name', 'family_name', 'substitute_until'])
    .orderBy('family_name')
    .orderBy('given_name')
    .execute();
  const entries = await db.selectFrom('assessor_entries').selectAll().orderBy('id', 'desc').execute();
  const { rows: signed } = await sql<{
    personId: number;
    signed: number;
    first: string;
    last: string;
    uncovered: number;
  }>`
    SELECT s.person_id AS personId, count(*) AS signed, min(s.made_at) AS first, max(s.made_at) AS last,
      sum(NOT EXISTS (SELECT 1 FROM assessor_entries e WHERE e.person_id = s.person_id AND e.from_on <= substr(s.made_at, 1, 10)
        AND (e.until_on IS NULL OR e.until_on >= substr(s.made_at, 1, 10)))) AS uncovered
    FROM sign_off_signatures s WHERE s.role = 'assessor' GROUP BY s.person_id`.execute(db);
  return people.map((one) => {
    const of = signed.find(({ personId }) => personId === one.id);
    return {
      ...{ id: one.id, name: displayName(one), substituteUntil: one.substitute_until },
      entries: entries
        .filter(({ person_id }) => person_id === one.id)
        .map(({ basis, from_on, until_on }) => ({ basis, fromOn: from_on, untilOn: until_on })),
      ...{ signed: of?.signed ?? 0, firstSigned: of?.first ?? null, lastSigned: of?.last ?? null },
      uncovered: of?.uncovered ?? 0,
    };
  });
}

/** Enters on what ground somebody may sign. Gives whether there is such an instructor. */
export async function enterAssessor(
  trx: Transaction<Database>,
  actor: Actor,
  entry: {
    readonly personId: number;
    readonly basis: string;
    readonly fromOn: string;
    readonly untilOn: string | null;
    readonly at: string;
  },
): Promise<boolean> {
  const person = await trx
    .selectFrom('people')
    .where('id', '=', entry.personId)
    .where('role', '=', 'instructor')
    .select('id')
    .executeTakeFirst();
  if (person === undefined) return false;
  const { personId, basis, fromOn, untilOn, at } = entry;
  await trx
    .insertInto('assessor_entries')
    .values({
      ...{ person_id: personId, basis, from_on: fromOn, until_on: untilOn, at },
      entered_by: actor.id,
    })
    .execute();
  return true;
}

/** A gauge or a wrench with its newest check. */
export interface RegisteredGauge {
  readonly kind: 'indicator' | 'torque-wrench';
  readonly number: string;
  readonly what: string;
  readonly checkedOn: string | null;
  readonly passed: boolean;
  readonly dueOn: string | null;
  readonly checks: number;
  /** Sign-offs it was taken for. */
  readonly used: number;
  readonly whenOverdue: 'warn' | 'block';
  readonly archived: boolean;
  /** Never checked, failed, or its day is over. */
  readonly overdue: boolean;
}

/** Indicators and torque wrenches: how many, checked when, due when, as of a day. */
export async function gaugeRegister(
  db: Kysely<Database>,
  today: string,
): Promise<readonly RegisteredGauge[]> {
  const { rows } = await sql<{
    kind: 'indicator' | 'torque-wrench';
    number: string;
    what: string;
    whenOverdue: 'warn' | 'block';
    archivedAt: string | null;
    checkedOn: string | null;
    passed: number | null;
    dueOn: string | null;
    checks: number;
    used: number;
  }>`
    SELECT g.kind, g.number, g.what, g.when_overdue AS whenOverdue, g.archived_at AS archivedAt, k.checked_on AS checkedOn, k.passed, k.due_on AS dueOn,
      (SELECT count(*) FROM shop_gauge_checks c WHERE c.gauge_id = g.id) AS checks,
      (SELECT count(*) FROM sign_offs o WHERE o.gauge_id = g.id OR o.wrench_id = g.id) AS used
    FROM shop_gauges g
    LEFT JOIN shop_gauge_checks k ON k.id = (SELECT max(id) FROM shop_gauge_checks c WHERE c.gauge_id = g.id)
    ORDER BY g.kind, g.number`.execute(db);
  return rows.map(({ archivedAt, passed, ...row }) => ({
    ...row,
    passed: passed === 1,
    archived: archivedAt !== null,
    overdue: archivedAt === null && (row.dueOn === null || passed !== 1 || row.dueOn < today),
  }));
}
