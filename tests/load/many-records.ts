import { loadProgram, readDemoProgram } from '../../server/commands/load-program.ts';
import { USUAL_RULE } from '../../server/competencies/evidence-rule.ts';
import { unwatchRows } from '../../server/database/chain.ts';
import { migrate } from '../../server/database/migrate.ts';
import { openStore, type Store } from '../../server/database/open.ts';

export interface ManyRecords {
  readonly students: number;
  readonly competencies: number;
  /** Graded runs of each student for each competency. */
  readonly runs: number;
}

/** Fills a new database with a program over years: every student with graded runs for every competency. The chain is left out, for time. */
export async function manyRecords(file: string, many: ManyRecords): Promise<Store> {
  const store = openStore(file);
  migrate(store.raw);
  await loadProgram(store, readDemoProgram(), new Date('2020-09-01T08:00:00.000Z'));
  const { raw } = store;
  unwatchRows(raw);
  raw.pragma('synchronous = OFF');
  raw.pragma('foreign_keys = OFF');
  raw.exec(`
    WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < ${many.students})
    INSERT INTO people (id, role, given_name, family_name, sign_in_name, student_number, created_at)
      SELECT 10000 + i, 'student', 'Given-' || i, 'Family-' || (i * 7919 % ${many.students}), 'n' || i, 'n' || i, '2020-09-01T08:00:00.000Z' FROM n;`);
  for (let index = 1; index <= many.competencies; index += 1) {
    const item = 1000 + index;
    raw
      .prepare(
        `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition) VALUES (?, 1, ?, ?, 'practice-engine', 'graded-run', '{"kind":"cam-lift"}')`,
      )
      .run(item, item, `Work ${index}`);
    raw
      .prepare(
        `INSERT INTO competencies (id, uuid, code, title, created_at) VALUES (?, ?, ?, ?, '2020-09-01')`,
      )
      .run(100 + index, `uuid-${index}`, `C-${index}`, `Competency ${index}`);
    raw
      .prepare(
        `INSERT INTO evidence_rules (competency_id, version, rule, in_force_from, items) VALUES (?, 1, ?, '2020-09-01T08:00:00.000Z', ?)`,
      )
      .run(100 + index, JSON.stringify(USUAL_RULE), JSON.stringify([item]));
    runsOf(store, item, many);
  }
  raw.exec('ANALYZE');
  return store;
}

function runsOf({ raw }: Store, item: number, { students, runs }: ManyRecords): void {
  const attempt = raw.prepare(
    `INSERT INTO attempts (id, section_id, item_id, student_id, try_number, way, definition, seed, engine_version, started_at) VALUES (?, 1, ?, ?, ?, 'graded-run', '{"kind":"cam-lift"}', ?, '1.3.0', ?)`,
  );
  const handIn = raw.prepare(`INSERT INTO hand_ins VALUES (?, '{}', '{}', 0, ?)`);
  const grade = raw.prepare(
    `INSERT INTO grades (attempt_id, engine_version, points, stops, grade, at) VALUES (?, '1.3.0', ?, ?, ?, ?)`,
  );
  raw.transaction(() => {
    for (let student = 1; student <= students; student += 1)
      for (let number = 1; number <= runs; number += 1) {
        const id = `${item}-${student}-${number}`;
        const seed = (student * 31 + number * 17 + item) % 97;
        const at = new Date(
          Date.UTC(2021, 0, 1) + ((student + number * 120) % 1800) * 86_400_000,
        ).toISOString();
        const reading = seed % 31;
        attempt.run(id, item, 10000 + student, number, String(seed), at);
        handIn.run(id, at);
        const points = { setUp: 30, procedure: 20, reading, verdict: 20 };
        const lobes = [
          { trueVerdict: seed % 3 === 0 ? 'below' : 'inside', tappet: seed % 2 === 0 ? 'sticky' : 'free' },
        ];
        const outOf = { setUp: 30, procedure: 20, reading: 30, verdict: 20 };
        grade.run(
          id,
          70 + reading,
          seed % 11 === 0 ? 1 : 0,
          JSON.stringify({ points, outOf, lobes, items: [] }),
          at,
        );
      }
  })();
}
