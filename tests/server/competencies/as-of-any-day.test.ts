import { DateTime } from 'luxon';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type EvidenceRule, evidenceRule } from '../../../server/competencies/evidence-rule.ts';
import { listCompetencies, standingsAsOf } from '../../../server/competencies/queries.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { chance } from '../../support/chance.ts';

const STUDENTS = 250;
const COMPETENCIES = 12;
const ZONE = 'America/Denver';
const ACTOR = { id: 1, role: 'coordinator' } as never;

/**
 * Random histories in the tables themselves: runs, grades given twice, changed points, sign-offs of instructors and substitutes, rules that change, words of
 * coordinators. Where each person stands is then worked out once by the server and once by the slow reading below, from the raw rows.
 */
describe('the matrix as of any day', () => {
  let built: TestApp;
  let days: string[];
  beforeAll(async () => {
    built = await testApp();
    days = fill(built, chance(20260914));
  }, 120_000);
  afterAll(() => built.close());

  it(`equals what the raw log says, for ${STUDENTS * COMPETENCIES} histories on each of several days`, async () => {
    const { store } = built;
    const states = new Map<string, number>();
    for (const day of days) {
      const competencies = await listCompetencies(store.db, ACTOR, new Date(day));
      const found = await standingsAsOf(store.db, competencies, day);
      const raw = readAll(built);
      for (const { id } of competencies)
        for (const studentId of raw.students) {
          const { state, since, until } = found.standing(studentId, id);
          expect({ state, since, until }, `${studentId} ${id} ${day}`).toEqual(
            slowly(raw, studentId, id, day),
          );
          states.set(state, (states.get(state) ?? 0) + 1);
        }
    }
    // Every state came up, so that each was compared.
    for (const state of ['held', 'granted', 'practice', 'begun', 'none', 'lapsed', 'revoked'])
      expect(states.get(state) ?? 0, state).toBeGreaterThan(30);
  }, 120_000);
});

type Chance = ReturnType<typeof chance>;

const iso = (ms: number) => new Date(ms).toISOString();

function randomRule(one: Chance): EvidenceRule {
  const count = one.whole(0, 3);
  const upTo = (most: number) => (one.yes(0.4) ? one.whole(0, most) : 0);
  return evidenceRule.parse({
    version: 2,
    runs: {
      ...{ count, inARow: one.yes(0.5), atLeastPercent: one.pick([50, 80]), noStops: one.yes(0.5) },
      ...{ full: one.yes(0.15) ? ['reading'] : [], engines: upTo(count), days: upTo(count) },
      ...{ badParts: upTo(count), setUpFaults: upTo(count) },
    },
    signOffs: count === 0 ? one.whole(1, 2) : one.pick([0, 1, 1, 1, 2]),
    holds: one.pick(['for-good', 'for-good', 'term', { months: 1 }, { months: 3 }]),
  });
}

/** Fills the tables, and gives the days to ask about. */
function fill({ store }: TestApp, one: Chance): string[] {
  const { raw } = store;
  const from = Date.parse('2026-01-05T00:00:00.000Z');
  const to = Date.parse('2027-01-05T00:00:00.000Z');
  // No two alike: what comes at the same moment has no order.
  const taken = new Set<number>();
  const moment = (least = from): number => {
    for (;;) {
      const ms = Math.floor(least + one.real() * (to - least));
      if (taken.has(ms)) continue;
      taken.add(ms);
      return ms;
    }
  };
  const run = (sql: string, ...values: unknown[]) => raw.prepare(sql).run(...values);
  raw.exec(`
    PRAGMA foreign_keys = OFF; DELETE FROM competencies;
    DROP TRIGGER evidence_rules_keep_delete; DELETE FROM evidence_rules; PRAGMA foreign_keys = ON;
    UPDATE sections SET time_zone = '${ZONE}';
    INSERT INTO terms (name, begins_on, ends_on) VALUES ('Spring', '2026-01-12', '2026-05-15'), ('Autumn', '2026-08-24', '2026-12-11');
    INSERT INTO shop_engines VALUES (1, 2, '2026-01-01T00:00:00.000Z', NULL);
    INSERT INTO shop_engine_versions VALUES (1, 1, '{}', 2, '2026-01-01T00:00:00.000Z');
    INSERT INTO people (id, role, given_name, family_name, sign_in_name, created_at, substitute_until) VALUES (900, 'instructor', 'Sub', 'Stitute', 'sub', '2026-01-01', '2030-01-01');`);
  const students = Array.from({ length: STUDENTS }, (_, index) => 1000 + index);
  for (const id of students)
    run(
      `INSERT INTO people (id, role, given_name, family_name, sign_in_name, student_number, created_at) VALUES (?, 'student', 'S', ?, ?, ?, '2026-01-01')`,
      ...[id, `N${id}`, `s${id}`, `s${id}`],
    );
  for (let id = 1; id <= COMPETENCIES; id += 1) {
    run(
      `INSERT INTO competencies (id, uuid, code, title, created_at) VALUES (?, ?, ?, 'T', '2026-01-01')`,
      ...[id, `u${id}`, `C${id}`],
    );
    const starts = [iso(from), ...Array.from({ length: one.whole(0, 2) }, () => iso(moment()))].sort();
    const [engineItem, shopItem] = [5000 + id, 6000 + id];
    for (const [index, start] of starts.entries())
      run(
        `INSERT INTO evidence_rules (competency_id, version, rule, in_force_from, items) VALUES (?, ?, ?, ?, ?)`,
        ...[id, index + 1, JSON.stringify(randomRule(one)), start],
        JSON.stringify(one.yes(0.85) ? [engineItem, shopItem] : [one.pick([engineItem, shopItem])]),
      );
    run(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition) VALUES (?, 1, ?, 'E', 'practice-engine', 'graded-run', '{"kind":"cam-lift"}')`,
      ...[engineItem, engineItem],
    );
    run(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, definition) VALUES (?, 1, ?, 'S', 'shop-engine', '{}')`,
      ...[shopItem, shopItem],
    );
    for (const student of students) {
      for (let n = 0, most = one.whole(0, 5); n < most; n += 1) history(student, engineItem, n);
      for (let n = 0, most = one.whole(0, 2); n < most; n += 1) signOff(student, shopItem, n);
      for (let n = 0, most = one.yes(0.3) ? one.whole(1, 3) : 0; n < most; n += 1)
        run(
          `INSERT INTO competency_words (competency_id, student_id, word, reason, said_by, at) VALUES (?, ?, ?, 'r', 1, ?)`,
          ...[id, student, one.pick(['granted', 'revoked', 'revoked', 'lifted']), iso(moment())],
        );
    }
  }
  // Words, changes and grades are numbered as they come: in the order of their time, as a clock would have it.
  reorder(raw);
  return [...Array.from({ length: 5 }, () => iso(moment())), iso(from), iso(to)];

  function history(student: number, item: number, n: number): void {
    const id = `${student}-${item}-${n}`;
    const at = moment();
    run(
      `INSERT INTO attempts (id, section_id, item_id, student_id, try_number, way, definition, seed, engine_version, started_at) VALUES (?, 1, ?, ?, ?, 'graded-run', '{"kind":"cam-lift"}', ?, '1', ?)`,
      ...[id, item, student, n + 1, one.yes(0.8) ? id : 'the same', iso(at - 600_000)],
    );
    run(`INSERT INTO hand_ins VALUES (?, '{}', '{}', 0, ?)`, ...[id, iso(at)]);
    const points = () => ({
      ...{ setUp: one.whole(10, 30), procedure: one.whole(10, 20) },
      ...{ reading: one.pick([30, 30, 12.5]), verdict: one.whole(5, 20) },
    });
    const grade = (when: number) => {
      const given = points();
      const lobes = [
        { trueVerdict: one.pick(['inside', 'inside', 'below']), tappet: one.pick(['free', 'sticky']) },
        { trueVerdict: 'inside', tappet: 'free' },
      ];
      const total = given.setUp + given.procedure + given.reading + given.verdict;
      const stops = one.yes(0.15) ? 1 : 0;
      const outOf = { setUp: 30, procedure: 20, reading: 30, verdict: 20 };
      run(
        `INSERT INTO grades (attempt_id, engine_version, points, stops, grade, at) VALUES (?, '1', ?, ?, ?, ?)`,
        ...[id, total, stops, JSON.stringify({ points: given, outOf, lobes, items: [] }), iso(when)],
      );
    };
    grade(at);
    if (one.yes(0.1)) grade(moment(at));
    for (let more = 0, most = one.yes(0.25) ? one.whole(1, 2) : 0; more < most; more += 1) {
      const { setUp, procedure, reading, verdict } = points();
      run(
        `INSERT INTO grade_changes (attempt_id, set_up, procedure, reading, verdict, reason, changed_by, at) VALUES (?, ?, ?, ?, ?, 'r', 2, ?)`,
        ...[id, setUp, procedure, reading, verdict, iso(moment(at))],
      );
    }
  }

  function signOff(student: number, item: number, n: number): void {
    const id = `sign-${student}-${item}-${n}`;
    const at = moment();
    run(
      `INSERT INTO sign_offs VALUES (?, 1, ?, ?, NULL, 1, 1, 1, NULL, NULL, '{}', '{}', NULL, NULL, 2, ?)`,
      ...[id, item, student, iso(at - 60_000)],
    );
    const sign = (role: string, person: number, outcome: string | null, when: number) =>
      run(
        `INSERT INTO sign_off_signatures (sign_off_id, role, person_id, outcome, client_id, made_at, arrived_at) VALUES (?, ?, ?, ?, ?, ?, ?)`,
        ...[id, role, person, outcome, `${id}-${role}`, iso(when), iso(when)],
      );
    if (one.yes(0.1)) return;
    const substitute = one.yes(0.3);
    const outcome = JSON.stringify({ passed: one.yes(0.75), against: [], facts: [] });
    sign('assessor', substitute ? 900 : 2, outcome, at);
    if (substitute && one.yes(0.6)) sign('countersigned', 2, null, moment(at));
  }
}

/** Numbers what is numbered in the order of its time. */
function reorder(raw: TestApp['store']['raw']): void {
  const spare = 10_000_000;
  for (const table of ['grade_changes', 'competency_words']) {
    raw.exec(`DROP TRIGGER ${table}_keep_update`);
    const rows = raw.prepare(`SELECT id FROM ${table} ORDER BY at`).pluck().all() as number[];
    const move = raw.prepare(`UPDATE ${table} SET id = ? WHERE id = ?`);
    raw.transaction(() => {
      for (const id of rows) move.run(id + spare, id);
      for (const [index, id] of rows.entries()) move.run(index + 1, id + spare);
    })();
  }
}

/** A row, as text: numbers are written out, and what is null is blank. */
type Row = Readonly<Record<string, string>>;

interface Raw {
  readonly students: readonly number[];
  readonly rows: (table: string) => readonly Row[];
}

function readAll({ store }: TestApp): Raw {
  const kept = new Map<string, readonly Row[]>();
  const rows = (table: string) => {
    const all =
      kept.get(table) ??
      (store.raw.prepare(`SELECT * FROM ${table}`).all() as Record<string, unknown>[]).map((row) =>
        Object.fromEntries(Object.entries(row).map(([name, value]) => [name, String(value ?? '')])),
      );
    kept.set(table, all);
    return all;
  };
  return {
    students: rows('people')
      .map(({ id }) => Number(id))
      .filter((id) => id >= 1000),
    rows,
  };
}

interface Event {
  readonly at: string;
  readonly item: string;
  readonly ok?: (rule: EvidenceRule) => boolean;
  readonly run?: {
    readonly engine: string;
    readonly day: string;
    readonly bad: boolean;
    readonly fault: boolean;
  };
  readonly passed?: boolean;
}

const grouped = new WeakMap<Raw, Map<string, Map<unknown, Row[]>>>();
/** The rows of a table with this in that column. */
function where(raw: Raw, table: string, column: string, value: unknown): readonly Row[] {
  const tables = grouped.get(raw) ?? new Map<string, Map<unknown, Row[]>>();
  grouped.set(raw, tables);
  let groups = tables.get(`${table}.${column}`);
  if (groups === undefined) {
    groups = new Map();
    for (const row of raw.rows(table)) groups.set(row[column], [...(groups.get(row[column]) ?? []), row]);
    tables.set(`${table}.${column}`, groups);
  }
  return groups.get(String(value)) ?? [];
}

/** Where somebody stands, read slowly from the raw rows. */
function slowly(raw: Raw, student: number, competency: number, day: string) {
  const upTo = (rows: readonly Row[], column = 'at') => rows.filter((row) => (row[column] ?? '') <= day);
  const last = <T>(all: readonly T[]): T | undefined => all[all.length - 1];
  let events: Event[] = [];
  for (const attempt of where(raw, 'attempts', 'student_id', student)) {
    if (attempt.way !== 'graded-run') continue;
    const [handIn] = upTo(where(raw, 'hand_ins', 'attempt_id', attempt.id));
    const grade = last(upTo(where(raw, 'grades', 'attempt_id', attempt.id)));
    if (handIn === undefined || grade === undefined) continue;
    const told = JSON.parse(grade.grade ?? '') as {
      points: Record<string, number>;
      lobes: { trueVerdict: string; tappet: string }[];
    };
    const change = last(
      [...upTo(where(raw, 'grade_changes', 'attempt_id', attempt.id))].sort((a, b) =>
        (a.at ?? '') < (b.at ?? '') ? -1 : 1,
      ),
    );
    const points = change
      ? [change.set_up, change.procedure, change.reading, change.verdict].map(Number)
      : ['setUp', 'procedure', 'reading', 'verdict'].map((name) => told.points[name] ?? 0);
    const total = points.reduce((sum, value) => sum + value, 0);
    events.push({
      at: handIn.at ?? '',
      item: attempt.item_id ?? '',
      ok: ({ runs }) =>
        total >= runs.atLeastPercent - 1e-9 &&
        !(runs.noStops && Number(grade.stops) > 0) &&
        !(runs.full.includes('reading') && (points[2] ?? 0) < 30),
      run: {
        engine: attempt.seed ?? '',
        day:
          DateTime.fromISO(handIn.at ?? '')
            .setZone(ZONE)
            .toISODate() ?? '',
        bad: told.lobes.some((lobe) => lobe.trueVerdict !== 'inside'),
        fault: told.lobes.some((lobe) => lobe.tappet !== 'free'),
      },
    });
  }
  for (const one of where(raw, 'sign_offs', 'student_id', student)) {
    const by = where(raw, 'sign_off_signatures', 'sign_off_id', one.id);
    const assessor = by.find((signature) => signature.role === 'assessor');
    const counter = by.find((signature) => signature.role === 'countersigned');
    const counts = assessor?.person_id === '900' ? counter : assessor;
    if (assessor === undefined || counts === undefined || (counts.arrived_at ?? '') > day) continue;
    events.push({
      at: counts.arrived_at ?? '',
      item: one.item_id ?? '',
      passed: (JSON.parse(assessor.outcome ?? '') as { passed: boolean }).passed,
    });
  }
  events.sort((a, b) => ((a.at ?? '') < (b.at ?? '') ? -1 : 1));
  const words = upTo(where(raw, 'competency_words', 'student_id', student))
    .filter((row) => row.competency_id === String(competency))
    .sort((a, b) => ((a.at ?? '') < (b.at ?? '') ? -1 : 1));
  const word = last(words);
  if (word?.word === 'granted') return { state: 'granted', since: word.at ?? '', until: null };
  const revokedAt = word?.word === 'revoked' ? (word.at ?? '') : null;
  if (revokedAt !== null) events = events.filter(({ at }) => at > revokedAt);
  const rules = upTo(where(raw, 'evidence_rules', 'competency_id', competency), 'in_force_from').map(
    (row) => ({
      from: row.in_force_from ?? '',
      rule: JSON.parse(row.rule ?? '') as EvidenceRule,
      items: (JSON.parse(row.items ?? '') as number[]).map(String),
    }),
  );
  const spells = rules
    .flatMap(({ rule, from, items }, index) => {
      const to = rules[index + 1]?.from ?? '9999';
      if (rule.signOffs === 0) return [];
      return metBy(
        rule,
        events.filter(({ at, item }) => at < to && items.includes(item)),
      ).map((at) => ({
        since: later(at, from),
        until: endFor(rule, at),
      }));
    })
    .filter(({ since, until }) => since <= day && (until === null || until > since));
  const now = spells.filter(({ until }) => until === null || until > day);
  const far = (until: string | null) => until ?? '9999';
  const best = [...now].sort((a, b) =>
    far(a.until) === far(b.until) ? (a.since < b.since ? -1 : 1) : far(a.until) > far(b.until) ? -1 : 1,
  )[0];
  if (best !== undefined) return { state: 'held', ...best };
  if (revokedAt !== null) return { state: 'revoked', since: revokedAt, until: null };
  const past = [...spells].sort((a, b) => (far(a.until) > far(b.until) ? -1 : 1))[0];
  if (past !== undefined) return { state: 'lapsed', since: past.until, until: past.until };
  const inForce = last(rules);
  events = events.filter(({ item }) => inForce?.items.includes(item));
  if (inForce !== undefined && inForce.rule.runs.count > 0) {
    const at = metBy(
      { ...inForce.rule, signOffs: 0 },
      events.filter(({ run }) => run !== undefined),
    )[0];
    if (at !== undefined) return { state: 'practice', since: later(at, inForce.from), until: null };
  }
  const first = events[0];
  return first === undefined
    ? { state: 'none', since: null, until: null }
    : { state: 'begun', since: first.at, until: null };
}

/** Every moment at which a rule was met, counting anew after each: by trying every stretch. */
function metBy(rule: EvidenceRule, events: readonly Event[]): string[] {
  const met: string[] = [];
  let start = 0;
  for (let end = 0; end < events.length; end += 1) {
    const stretch = events.slice(start, end + 1);
    const signed = stretch.filter(({ passed }) => passed === true).length;
    if (signed < rule.signOffs || !runsEnough(rule, stretch)) continue;
    met.push(events[end]?.at ?? '');
    start = end + 1;
  }
  return met;
}

function runsEnough(rule: EvidenceRule, stretch: readonly Event[]): boolean {
  const asked = rule.runs;
  if (asked.count === 0) return true;
  const runs = stretch.filter(({ run }) => run !== undefined);
  return runs.some((one, index) => {
    if (!one.ok?.(rule)) return false;
    let group = runs.slice(0, index + 1);
    if (asked.inARow) {
      const broken = group.map((other) => other.ok?.(rule) ?? false).lastIndexOf(false);
      group = group.slice(broken + 1);
    }
    const good = group.filter((other) => other.ok?.(rule));
    const number = (of: (event: Event) => boolean | undefined) => good.filter(of).length;
    return (
      good.length >= asked.count &&
      new Set(good.map(({ run }) => run?.engine)).size >= asked.engines &&
      new Set(good.map(({ run }) => run?.day)).size >= asked.days &&
      number(({ run }) => run?.bad) >= asked.badParts &&
      number(({ run }) => run?.fault) >= asked.setUpFaults
    );
  });
}

function endFor({ holds }: EvidenceRule, at: string): string | null {
  if (holds === 'for-good') return null;
  const utc = DateTime.fromISO(at, { zone: 'utc' });
  if (holds !== 'term') return utc.plus({ months: holds.months }).toISO();
  // By hand, from the terms above: between two of them until the next one; after the last for good.
  const day = at.slice(0, 10);
  if (day < '2026-01-12') return '2026-01-12T00:00:00.000Z';
  if (day <= '2026-05-15') return '2026-05-16T00:00:00.000Z';
  if (day < '2026-08-24') return '2026-08-24T00:00:00.000Z';
  return day <= '2026-12-11' ? '2026-12-12T00:00:00.000Z' : null;
}

/** Of two instants the later one. */
function later(one: string, other: string): string {
  return [one, other].sort()[1] ?? '';
}
