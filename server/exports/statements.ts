import type { Kysely } from 'kysely';
import type { Competency } from '../competencies/index.ts';
import { itemAddress } from '../competencies/index.ts';
import type { Store } from '../database/open.ts';
import type { Database } from '../database/tables.ts';
import { rawWork } from '../database/transaction.ts';
import { listSignedEvidence } from '../sign-offs/index.ts';
import { asUuid, uuidOfName } from '../web/uuid.ts';
import { RUNS_FROM } from './evidence-lines.ts';

/** An xAPI 1.0.3 statement, as JSON. */
export type Statement = Readonly<Record<string, unknown>>;

interface Wanted {
  readonly competencies: readonly Competency[];
  readonly asOf: string;
  /** Null: everybody. */
  readonly studentIds: readonly number[] | null;
  readonly address: string;
}

const VERB = (name: string) => ({
  id: `http://adlnet.gov/expapi/verbs/${name}`,
  display: { 'en-GB': name },
});
const ASSESSMENT = 'http://adlnet.gov/expapi/activities/assessment';
const PERFORMANCE = 'http://adlnet.gov/expapi/activities/performance';
const OBJECTIVE = 'http://adlnet.gov/expapi/activities/objective';

/** So many rows are read at a time. */
const BATCH = 500;

interface RunRow {
  readonly gradeId: number;
  readonly id: string;
  readonly itemId: number;
  readonly title: string;
  readonly who: string;
  readonly startedAt: string;
  readonly at: string;
  readonly points: number;
  readonly outOf: number;
  readonly stops: number;
}

/** One statement for each graded run handed in by the instant, a batch at a time: `completed`, with its score. People go by a name that says nothing of them. Source: xAPI 1.0.3. */
export async function* runStatements(store: Store, wanted: Wanted): AsyncGenerator<Statement[]> {
  const { competencies, asOf, studentIds, address } = wanted;
  const items = JSON.stringify([...new Set(competencies.flatMap(({ itemIds }) => itemIds))]);
  const students = studentIds === null ? null : JSON.stringify(studentIds);
  const sql = `
    SELECT f.grade_id AS gradeId, a.id, a.item_id AS itemId, i.title, p.uuid AS who, a.started_at AS startedAt, h.at,
      coalesce(c.set_up + c.procedure + c.reading + c.verdict, f.set_up + f.procedure + f.reading + f.verdict) AS points,
      f.out_set_up + f.out_procedure + f.out_reading + f.out_verdict AS outOf, f.stops
    ${RUNS_FROM}
      ${students === null ? '' : 'AND a.student_id IN (SELECT value FROM json_each(@students))'}
    ORDER BY f.grade_id LIMIT ${BATCH}`;
  for (let after = 0; ; ) {
    const rows = await rawWork(
      store,
      (raw) => raw.prepare(sql).all({ asOf, items, students, after }) as RunRow[],
    );
    yield rows.map((row) => runStatement(row, competencies, address));
    const last = rows.at(-1);
    if (last === undefined || rows.length < BATCH) return;
    after = last.gradeId;
  }
}

function runStatement(row: RunRow, competencies: readonly Competency[], address: string): Statement {
  const tenth = (value: number) => Math.round(value * 10) / 10;
  const [raw, max] = [tenth(row.points), tenth(row.outOf)];
  return {
    id: uuidOfName(`completed ${row.id}`),
    actor: agent(row.who, address),
    verb: VERB('completed'),
    object: activity(`${address}/activities/items/${row.itemId}`, row.title, ASSESSMENT),
    result: {
      score: { scaled: max > 0 ? Math.round((raw / max) * 10_000) / 10_000 : 0, raw, min: 0, max },
      completion: true,
      duration: durationOf(row.startedAt, row.at),
      extensions: { [`${address}/xapi/stops`]: row.stops },
    },
    context: {
      ...contextOf(row.itemId, competencies, address),
      registration: asUuid(row.id),
      extensions: { [`${address}/xapi/kind-of-evidence`]: 'practice engine' },
    },
    timestamp: row.at,
  };
}

/** One statement for each sign-off on a shop engine that counts by the instant: `passed` or `failed`. */
export async function signOffStatements(db: Kysely<Database>, wanted: Wanted): Promise<Statement[]> {
  const { competencies, asOf, studentIds, address } = wanted;
  const itemIds = [...new Set(competencies.flatMap((one) => one.itemIds))];
  const signed = await listSignedEvidence(db, itemIds, asOf, studentIds ?? undefined);
  const people = await db.selectFrom('people').select(['id', 'uuid']).execute();
  const nameOf = new Map(people.map(({ id, uuid }) => [id, uuid]));
  const items = await db.selectFrom('lab_sheet_items').select(['id', 'title']).execute();
  const titleOf = new Map(items.map(({ id, title }) => [id, title]));
  return signed.map((one) => ({
    id: uuidOfName(`sign-off ${one.id}`),
    actor: agent(nameOf.get(one.studentId) ?? '', address),
    verb: VERB(one.passed ? 'passed' : 'failed'),
    object: activity(`${address}/activities/items/${one.itemId}`, titleOf.get(one.itemId) ?? '', PERFORMANCE),
    result: { success: one.passed, completion: true },
    context: {
      ...contextOf(one.itemId, competencies, address),
      registration: asUuid(one.id),
      extensions: { [`${address}/xapi/kind-of-evidence`]: 'shop engine' },
    },
    timestamp: one.at,
  }));
}

function agent(uuid: string, address: string) {
  return { objectType: 'Agent', account: { homePage: address, name: uuid } };
}

function activity(id: string, title: string, type: string) {
  return { objectType: 'Activity', id, definition: { name: { 'en-GB': title }, type } };
}

function contextOf(itemId: number, competencies: readonly Competency[], address: string) {
  const grouping = competencies
    .filter(({ itemIds }) => itemIds.includes(itemId))
    .map(({ uuid, title }) => activity(itemAddress(address, uuid), title, OBJECTIVE));
  return { contextActivities: { grouping }, platform: 'Dialbench' };
}

/** ISO 8601 in seconds; nothing where the clock went back. */
function durationOf(from: string, to: string): string {
  const seconds = Math.max(0, (Date.parse(to) - Date.parse(from)) / 1000);
  return `PT${(Math.round(seconds * 100) / 100).toFixed(2)}S`;
}
