import { localTimeOf } from '../web/local-time.ts';

/** A section's word on one lesson. */
export interface PlanRow {
  readonly key: string;
  readonly hidden: boolean;
  /** The first day it may be read, `YYYY-MM-DD`; null at once. */
  readonly releaseOn: string | null;
}

/** One lesson of a section's course. */
export interface Planned extends PlanRow {
  /** May its students read it today? */
  readonly open: boolean;
}

/**
 * The course of a section: what its instructor has put in order, and then, in the order of the course, what the plan says nothing of because it
 * was not there yet. A lesson that is no longer there is left out. `today` is a day as `YYYY-MM-DD`.
 */
export function planned(
  keys: readonly string[],
  rows: readonly PlanRow[],
  today: string,
): readonly Planned[] {
  const there = new Set(keys);
  const said = new Set(rows.map(({ key }) => key));
  const fresh = keys.filter((key) => !said.has(key) && !key.startsWith('own-'));
  return [
    ...rows.filter(({ key }) => there.has(key)),
    ...fresh.map((key): PlanRow => ({ key, hidden: false, releaseOn: null })),
  ].map((row) => ({ ...row, open: !row.hidden && (row.releaseOn === null || row.releaseOn <= today) }));
}

/**
 * What a student of several sections sees: a lesson is open where one of the sections has opened it, and otherwise comes on the earliest
 * day any of them names. In the order of the first section.
 */
export function together(plans: readonly (readonly Planned[])[]): readonly Planned[] {
  const found = new Map<string, Planned>();
  for (const one of plans.flat()) {
    if (one.hidden) continue;
    const before = found.get(one.key);
    if (before === undefined || (!before.open && (one.open || earlier(one, before)))) found.set(one.key, one);
  }
  return [...found.values()];
}

function earlier(one: PlanRow, other: PlanRow): boolean {
  return other.releaseOn !== null && (one.releaseOn === null || one.releaseOn < other.releaseOn);
}

/** The same lessons with one a place up or down; at the ends nothing changes. */
export function moved<Row extends PlanRow>(rows: readonly Row[], key: string, way: -1 | 1): readonly Row[] {
  const at = rows.findIndex((row) => row.key === key);
  const to = at + way;
  const [row, other] = [rows[at], rows[to]];
  if (row === undefined || other === undefined) return rows;
  return rows.map((one, index) => (index === at ? other : index === to ? row : one));
}

/**
 * The plan with an instructor's lesson put in: a version of ours takes the place of ours, which is left out from then on; any other comes
 * last. What is in the plan already stays where it is.
 */
export function withOwn(rows: readonly PlanRow[], key: string, basedOn: string | null): readonly PlanRow[] {
  if (rows.some((row) => row.key === key)) return rows;
  const base = rows.find((row) => row.key === basedOn);
  if (base === undefined) return [...rows, { key, hidden: false, releaseOn: null }];
  return rows.flatMap((row) =>
    row === base
      ? [
          { ...base, key },
          { ...base, hidden: true },
        ]
      : [row],
  );
}

/** The day it is, as `YYYY-MM-DD`, by the clock on a section's wall. `zone` is a name of the tz database. */
export function dayOf(time: Date, zone: string): string {
  return localTimeOf(time.toISOString(), zone).day;
}
