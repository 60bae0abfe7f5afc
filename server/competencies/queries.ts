import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { type AttemptSummary, listGradedRuns } from '../review/index.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import type { Evidence } from './evidence.ts';
import { type EvidenceRule, evidenceRule } from './evidence-rule.ts';
import { whatWasKnown } from './known.ts';
import { type RuleInForce, type Standing, standingAsOf } from './standing.ts';

export interface Competency {
  readonly id: number;
  readonly uuid: string;
  readonly code: string;
  readonly title: string;
  /** What somebody who holds it can do. */
  readonly statement: string;
  /** What it is grouped by. */
  readonly course: string;
  /** Of its words. */
  readonly version: number;
  readonly retiredAt: string | null;
  /** Every version of its rule, in order. */
  readonly rules: readonly RuleInForce[];
  /** The rule in force at the instant that was asked for. */
  readonly rule: EvidenceRule;
  readonly ruleVersion: number;
  readonly inForceFrom: string;
  /** Work that counts by any rule so far. */
  readonly itemIds: readonly number[];
}

/** A person in the program. */
export interface Person {
  readonly studentId: number;
  readonly givenName: string;
  readonly familyName: string;
  readonly studentNumber: string;
}

/** Where one person stands with one competency. */
export interface PersonStanding extends Person {
  readonly standing: Standing;
}

/** Every competency that has a rule in force at `asOf`, by course and code. Coordinators see the whole program. */
export async function listCompetencies(
  db: Kysely<Database>,
  actor: Actor,
  asOf: Date,
): Promise<Competency[]> {
  requireCoordinator(actor);
  return competenciesInForce(db, asOf.toISOString());
}

/** One competency. Throws NotFound, also when no rule of it is in force yet. */
export async function getCompetency(
  db: Kysely<Database>,
  actor: Actor,
  id: number,
  asOf: Date,
): Promise<Competency> {
  const found = (await listCompetencies(db, actor, asOf)).find((one) => one.id === id);
  if (!found) throw new NotFound();
  return found;
}

/** The same, for whoever asks. What is certified is no secret. */
export async function competenciesInForce(db: Kysely<Database>, asOf: string): Promise<Competency[]> {
  const rows = await db.selectFrom('competencies').selectAll().orderBy('course').orderBy('code').execute();
  const rules = await db.selectFrom('evidence_rules').selectAll().orderBy('version').execute();
  return rows.flatMap((row): Competency[] => {
    const own = rules
      .filter(({ competency_id }) => competency_id === row.id)
      .map(
        ({ version, rule, in_force_from, items }): RuleInForce => ({
          ...{ version, from: in_force_from },
          rule: evidenceRule.parse(JSON.parse(rule)),
          itemIds: JSON.parse(items) as number[],
        }),
      );
    const inForce = own.findLast(({ from }) => from <= asOf);
    if (inForce === undefined) return [];
    return [
      {
        ...{ id: row.id, uuid: row.uuid, code: row.code, title: row.title, statement: row.statement },
        ...{ course: row.course, version: row.version, retiredAt: row.retired_at },
        ...{ rules: own, rule: inForce.rule, ruleVersion: inForce.version, inForceFrom: inForce.from },
        itemIds: [...new Set(own.filter(({ from }) => from <= asOf).flatMap(({ itemIds }) => itemIds))],
      },
    ];
  });
}

/** Where people stand with competencies as of an instant; by `student competency`. */
export async function standingsAsOf(
  db: Kysely<Database>,
  competencies: readonly Competency[],
  asOf: string,
  studentIds?: readonly number[],
): Promise<{
  standing(studentId: number, competencyId: number): Standing;
  evidence(studentId: number, competencyId: number): Evidence;
  readonly studentIds: readonly number[];
}> {
  const known = await whatWasKnown(db, {
    links: competencies.flatMap(({ id, itemIds }) => itemIds.map((itemId) => ({ competencyId: id, itemId }))),
    competencyIds: competencies.map(({ id }) => id),
    asOf,
    ...(studentIds === undefined ? {} : { studentIds }),
  });
  const rules = new Map(competencies.map((one) => [one.id, one.rules]));
  return {
    standing: (studentId, competencyId) =>
      standingAsOf({
        rules: rules.get(competencyId) ?? [],
        evidence: known.evidence(studentId, competencyId),
        words: known.words(studentId, competencyId),
        terms: known.terms,
        asOf,
      }),
    evidence: known.evidence,
    studentIds: known.studentIds,
  };
}

/** Everybody of whom anything is known for a competency as of an instant, by name. */
export async function listStandings(
  db: Kysely<Database>,
  actor: Actor,
  competency: Competency,
  asOf: string,
): Promise<readonly PersonStanding[]> {
  requireCoordinator(actor);
  const found = await standingsAsOf(db, [competency], asOf);
  const people = await listPeople(db, found.studentIds);
  return people.map((person) => ({ ...person, standing: found.standing(person.studentId, competency.id) }));
}

/** These people, by name. */
export async function listPeople(db: Kysely<Database>, ids: readonly number[]): Promise<readonly Person[]> {
  if (ids.length === 0) return [];
  const rows = await db
    .selectFrom('people')
    .where('id', 'in', ids)
    .select(['id', 'given_name', 'family_name', 'student_number'])
    .execute();
  return rows
    .map((row) => ({
      studentId: row.id,
      givenName: row.given_name,
      familyName: row.family_name,
      studentNumber: row.student_number ?? '',
    }))
    .sort(byName);
}

const ORDER = new Intl.Collator('en');

function byName(one: Person, other: Person): number {
  return (
    ORDER.compare(one.familyName, other.familyName) ||
    ORDER.compare(one.givenName, other.givenName) ||
    one.studentId - other.studentId
  );
}

/** A competency with where the person who asks stands; nobody else's work is looked at. */
export interface OwnStanding {
  readonly competency: Competency;
  readonly standing: Standing;
  readonly evidence: Evidence;
  /** Graded runs handed in, oldest first. */
  readonly attempts: readonly AttemptSummary[];
}

/** Every competency that is not retired, with where the person who asks stands. */
export async function listOwnStandings(
  db: Kysely<Database>,
  actor: Actor,
  now: Date,
): Promise<readonly OwnStanding[]> {
  const asOf = now.toISOString();
  const competencies = (await competenciesInForce(db, asOf)).filter(({ retiredAt }) => retiredAt === null);
  const found = await standingsAsOf(db, competencies, asOf, [actor.id]);
  return Promise.all(
    competencies.map(async (competency) => ({
      competency,
      standing: found.standing(actor.id, competency.id),
      evidence: found.evidence(actor.id, competency.id),
      attempts: await listGradedRuns(db, competency.itemIds, { studentId: actor.id }),
    })),
  );
}

/** One graded run that is evidence for a competency. Throws NotFound for any other attempt. */
export async function getEvidence(
  db: Kysely<Database>,
  actor: Actor,
  competency: Competency,
  attemptId: string,
): Promise<AttemptSummary> {
  requireCoordinator(actor);
  const [attempt] = await listGradedRuns(db, competency.itemIds, { attemptId });
  if (!attempt) throw new NotFound();
  return attempt;
}

export function requireCoordinator(actor: Actor): void {
  if (actor.role !== 'coordinator') throw new NotFound();
}
