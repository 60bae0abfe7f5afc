import type { Kysely } from 'kysely';
import { type Competency, reasonsOf } from '../competencies/index.ts';
import type { Store } from '../database/open.ts';
import type { Database } from '../database/tables.ts';
import { rawWork } from '../database/transaction.ts';
import type { Criterion } from '../engine/index.ts';
import { listSignedEvidence, listSignOffFacts } from '../sign-offs/index.ts';

/** One piece of evidence for one competency, as every file about evidence has it. Numbers and instants are written out. */
export const EVIDENCE_COLUMNS = [
  ...(['competency_code', 'competency_uuid', 'rule_version', 'family_name', 'given_name'] as const),
  ...(['student_number', 'section', 'term', 'evidence_kind', 'evidence_id', 'item', 'try', 'at'] as const),
  ...(['points', 'out_of', 'stops', 'counts', 'why_not', 'part_outside_limits', 'fault_in_set_up'] as const),
  ...(['graded_by', 'points_changed_by', 'assessor', 'assessor_standing', 'countersigned_by'] as const),
  ...(['gauge_number', 'gauge_check_due', 'wrench_number', 'wrench_check_due', 'as_of'] as const),
] as const;

export type EvidenceLine = readonly (string | number)[];

export interface LinesWanted {
  readonly competencies: readonly Competency[];
  readonly asOf: string;
  /** Null: everybody. */
  readonly studentIds: readonly number[] | null;
}

/** So many rows are read at a time: a statement that is being read would hold up whoever writes. */
const BATCH = 500;

/**
 * Graded runs that were known at an instant, a batch at a time, in the order they were graded; each once for every competency that it is evidence of. Memory
 * stays small however many there are.
 */
export async function* runLines(store: Store, wanted: LinesWanted): AsyncGenerator<EvidenceLine[]> {
  const { competencies, asOf, studentIds } = wanted;
  const forItem = new Map<number, Competency[]>();
  for (const one of competencies)
    for (const id of one.itemIds) forItem.set(id, [...(forItem.get(id) ?? []), one]);
  const items = JSON.stringify([...forItem.keys()]);
  const students = studentIds === null ? null : JSON.stringify(studentIds);
  for (let after = 0; ; ) {
    const rows = await rawWork(
      store,
      (raw) =>
        raw
          .prepare(runsSql(students !== null))
          .raw()
          .all({ asOf, items, students, after }) as RunRow[],
    );
    yield rows.flatMap((row) => (forItem.get(Number(row[ITEM])) ?? []).map((one) => runLine(row, one)));
    const last = rows.at(-1);
    if (last === undefined || rows.length < BATCH) return;
    after = Number(last[GRADE]);
  }
}

/** A row of `runsSql`, in its order. Arrays, not objects: there may be a million of them. */
type RunRow = readonly (string | number)[];
const [GRADE, ITEM, BAD_PART, SET_UP_FAULT, POINTS, OUT_OF, STOPS, LINE] = [0, 1, 2, 3, 4, 8, 12, 13];
/** Fields of a line that SQL leaves blank. */
const [CODE, UUID, RULE_VERSION, COUNTS, WHY_NOT] = [0, 1, 2, 16, 17];

/** Where graded runs that were known at `@asOf` come from, of the items `@items`, after the grade `@after`; each with its newest grade and change then. */
export const RUNS_FROM = `
    FROM grade_facts f
    JOIN attempts a ON a.id = f.attempt_id
    JOIN hand_ins h ON h.attempt_id = f.attempt_id
    JOIN grades g ON g.id = f.grade_id
    JOIN people p ON p.id = a.student_id
    JOIN sections s ON s.id = a.section_id
    JOIN lab_sheet_items i ON i.id = a.item_id
    LEFT JOIN grade_changes c ON c.id = (SELECT max(id) FROM grade_changes WHERE attempt_id = f.attempt_id AND at <= @asOf)
    LEFT JOIN people who ON who.id = c.changed_by
    WHERE f.grade_id > @after AND f.at <= @asOf AND h.at <= @asOf AND a.way = 'graded-run'
      AND a.item_id IN (SELECT value FROM json_each(@items))
      AND NOT EXISTS (SELECT 1 FROM grade_facts n WHERE n.attempt_id = f.attempt_id AND n.grade_id > f.grade_id AND n.at <= @asOf)`;

/** Exported for the speed measurement, which asks another program the same. The columns from the fourteenth on go into the line as they are. */
export function runsSql(someStudents: boolean, batch: number | null = BATCH): string {
  return `
    SELECT f.grade_id, a.item_id, f.bad_part, f.set_up_fault,
      coalesce(c.set_up, f.set_up), coalesce(c.procedure, f.procedure), coalesce(c.reading, f.reading), coalesce(c.verdict, f.verdict),
      f.out_set_up, f.out_procedure, f.out_reading, f.out_verdict, f.stops,
      '', '', '', p.family_name, p.given_name, coalesce(p.student_number, ''), s.name, s.term, 'practice engine', a.id, i.title, a.try_number, h.at,
      round(coalesce(c.set_up + c.procedure + c.reading + c.verdict, f.set_up + f.procedure + f.reading + f.verdict), 1),
      round(f.out_set_up + f.out_procedure + f.out_reading + f.out_verdict, 1), f.stops, '', '',
      CASE f.bad_part WHEN 1 THEN 'yes' ELSE 'no' END, CASE f.set_up_fault WHEN 1 THEN 'yes' ELSE 'no' END,
      'measuring engine ' || g.engine_version, coalesce(who.given_name || ' ' || who.family_name, ''),
      -- Assessors and gauges are of the shop: a practice engine has its own.
      '', '', '', '', '', '', '', @asOf
    ${RUNS_FROM}
      ${someStudents ? 'AND a.student_id IN (SELECT value FROM json_each(@students))' : ''}
    ORDER BY f.grade_id ${batch === null ? '' : `LIMIT ${batch}`}`;
}

function runLine(row: RunRow, competency: Competency): EvidenceLine {
  const reasons = reasonsOf(competency, {
    id: '',
    itemId: Number(row[ITEM]),
    at: '',
    day: '',
    engine: '',
    points: byCriterion(row, POINTS),
    outOf: byCriterion(row, OUT_OF),
    stops: Number(row[STOPS]),
    badPart: row[BAD_PART] === 1,
    setUpFault: row[SET_UP_FAULT] === 1,
  });
  const line = row.slice(LINE);
  line[CODE] = competency.code;
  line[UUID] = competency.uuid;
  line[RULE_VERSION] = competency.ruleVersion;
  line[COUNTS] = reasons.length === 0 ? 'yes' : 'no';
  line[WHY_NOT] = reasons.join('; ');
  return line;
}

function byCriterion(row: RunRow, from: number): Record<Criterion, number> {
  return {
    setUp: Number(row[from]),
    procedure: Number(row[from + 1]),
    reading: Number(row[from + 2]),
    verdict: Number(row[from + 3]),
  };
}

/** Sign-offs that counted at an instant, by the competency they are evidence of. */
export async function signOffLines(
  db: Kysely<Database>,
  { competencies, asOf, studentIds }: LinesWanted,
): Promise<EvidenceLine[]> {
  const lines: EvidenceLine[] = [];
  for (const competency of competencies) {
    const signed = await listSignedEvidence(db, competency.itemIds, asOf, studentIds ?? undefined);
    const facts = await listSignOffFacts(
      db,
      signed.map(({ id }) => id),
    );
    const counting = competency.rules.find(({ version }) => version === competency.ruleVersion)?.itemIds;
    for (const { id, itemId, at, passed } of signed) {
      const fact = facts.get(id);
      if (fact === undefined) continue;
      const whyNot = !passed
        ? 'not passed'
        : counting?.includes(itemId)
          ? ''
          : 'the rule in force does not count it';
      lines.push([
        ...[competency.code, competency.uuid, competency.ruleVersion, fact.familyName, fact.givenName],
        ...[fact.studentNumber, fact.section, fact.term, 'shop engine', id, fact.item, '', at],
        ...['', '', '', whyNot === '' ? 'yes' : 'no', whyNot, '', ''],
        ...['', '', fact.assessor, fact.assessorStanding, fact.countersignedBy],
        ...[fact.gauge?.number ?? '', fact.gauge?.dueOn ?? '', fact.wrench?.number ?? ''],
        ...[fact.wrench?.dueOn ?? '', asOf],
      ]);
    }
  }
  return lines;
}
