import type { Kysely, Transaction } from 'kysely';
import { displayName } from '../accounts/index.ts';
import { type Competency, listStandings, type Meeting, type Standing } from '../competencies/index.ts';
import type { Database } from '../database/tables.ts';
import { listGradedRuns } from '../review/index.ts';
import { getSignOff, type SignOff } from '../sign-offs/index.ts';
import type { Actor } from '../web/actor.ts';
import { type RecordRow, recordRows } from './csv.ts';

export interface PastExport {
  readonly id: number;
  readonly who: string;
  readonly rows: number;
  readonly what: string;
  readonly at: string;
}

/** Rows of a competency's record as of an instant. */
export async function rowsOf(
  db: Kysely<Database>,
  actor: Actor,
  competency: Competency,
  asOf: string,
): Promise<RecordRow[]> {
  const standings = await listStandings(db, actor, competency, asOf);
  const attempts = new Map((await listGradedRuns(db, competency.itemIds)).map((run) => [run.id, run]));
  const signOffs = new Map<string, SignOff>();
  for (const { standing } of standings)
    for (const { id } of countedOf(standing).signOffs) signOffs.set(id, await getSignOff(db, id));
  return recordRows(
    competency,
    standings,
    ({ standing }) => ({
      attempts: countedOf(standing).runs.flatMap(({ id }) => attempts.get(id) ?? []),
      signOffs: countedOf(standing).signOffs.flatMap(({ id }) => signOffs.get(id) ?? []),
    }),
    asOf,
  );
}

/** What it is held by; where it is not held, what counts towards it. */
function countedOf({ by, progress }: Standing): Pick<Meeting, 'runs' | 'signOffs'> {
  return by ?? progress ?? { runs: [], signOffs: [] };
}

/** Rows of a competency's record, and the note that they left the house, in one transaction. */
export async function takeOut(
  trx: Transaction<Database>,
  actor: Actor,
  competency: Competency,
  now: Date,
): Promise<RecordRow[]> {
  const rows = await rowsOf(trx, actor, competency, now.toISOString());
  await noteExport(trx, actor, { what: whatOf(competency), rows: rows.length, at: now.toISOString() });
  return rows;
}

/** Writes down that something left the house: what, how many rows, by whom. */
export async function noteExport(
  trx: Transaction<Database>,
  actor: Actor,
  { what, rows, at }: { readonly what: string; readonly rows: number; readonly at: string },
): Promise<void> {
  await trx.insertInto('exports').values({ person_id: actor.id, what, rows, at }).execute();
}

/** What has left the house of this competency, newest first. */
export async function listPastExports(db: Kysely<Database>, competency: Competency): Promise<PastExport[]> {
  const rows = await db
    .selectFrom('exports')
    .innerJoin('people as person', 'person.id', 'exports.person_id')
    .where('exports.what', 'like', `${competency.uuid} %`)
    .select([
      'exports.id',
      'exports.rows',
      'exports.what',
      'exports.at',
      'person.given_name',
      'person.family_name',
    ])
    .orderBy('exports.id', 'desc')
    .execute();
  return rows.map(({ given_name, family_name, what, ...row }) => ({
    ...row,
    who: displayName({ given_name, family_name }),
    what: what.slice(competency.uuid.length + 1),
  }));
}

/** Begins with the competency's own identifier: its code may be written anew one day. */
function whatOf(competency: Competency): string {
  return `${competency.uuid} ${competency.code}, rule version ${competency.ruleVersion}, CSV`;
}
