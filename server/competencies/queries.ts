import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { type AttemptSummary, listGradedRuns } from '../review/index.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import { type Decision, decide, type EvidenceRule, evidenceRule } from './rule.ts';

export interface Competency {
  readonly id: number;
  readonly uuid: string;
  readonly code: string;
  readonly title: string;
  readonly ruleVersion: number;
  readonly rule: EvidenceRule;
  readonly inForceFrom: string;
  readonly itemIds: readonly number[];
}

/** One student who has handed in a graded run for a competency. */
export interface Standing {
  readonly studentId: number;
  readonly givenName: string;
  readonly familyName: string;
  readonly studentNumber: string;
  /** Graded runs handed in, oldest first. */
  readonly attempts: readonly AttemptSummary[];
  readonly decision: Decision;
}

/** Every competency with the rule in force at that time, by code. Coordinators see the whole program. */
export async function listCompetencies(db: Kysely<Database>, actor: Actor, now: Date): Promise<Competency[]> {
  requireCoordinator(actor);
  return competenciesInForce(db, now);
}

/** A competency with what the student's own graded runs make of it. */
export interface OwnStanding {
  readonly competency: Competency;
  /** Graded runs handed in, oldest first. */
  readonly attempts: readonly AttemptSummary[];
  readonly decision: Decision;
}

/** Every competency by code, with where the person who asks stands; nobody else's runs are looked at. */
export async function listOwnStandings(
  db: Kysely<Database>,
  actor: Actor,
  now: Date,
): Promise<OwnStanding[]> {
  const standings: OwnStanding[] = [];
  for (const competency of await competenciesInForce(db, now)) {
    const runs = await listGradedRuns(db, competency.itemIds);
    const attempts = runs.filter(({ studentId }) => studentId === actor.id);
    standings.push({ competency, attempts, decision: decide(competency.rule, attempts) });
  }
  return standings;
}

async function competenciesInForce(db: Kysely<Database>, now: Date): Promise<Competency[]> {
  const rows = await db
    .selectFrom('competencies as competency')
    .innerJoin('evidence_rules as rule', (join) =>
      join.on('rule.id', '=', (eb) =>
        eb
          .selectFrom('evidence_rules as r')
          .whereRef('r.competency_id', '=', 'competency.id')
          .where('r.in_force_from', '<=', now.toISOString())
          .select('r.id')
          .orderBy('r.version', 'desc')
          .limit(1),
      ),
    )
    .select([
      'competency.id',
      'competency.uuid',
      'competency.code',
      'competency.title',
      'rule.version as ruleVersion',
      'rule.rule',
      'rule.in_force_from as inForceFrom',
    ])
    .orderBy('competency.code')
    .execute();
  const links = await db.selectFrom('competency_items').selectAll().orderBy('item_id').execute();
  return rows.map((row) => ({
    ...row,
    rule: evidenceRule.parse(JSON.parse(row.rule)),
    itemIds: links.filter((link) => link.competency_id === row.id).map((link) => link.item_id),
  }));
}

/** One competency. Throws NotFound, also when no rule of it is in force yet. */
export async function getCompetency(
  db: Kysely<Database>,
  actor: Actor,
  id: number,
  now: Date,
): Promise<Competency> {
  const found = (await listCompetencies(db, actor, now)).find((one) => one.id === id);
  if (!found) throw new NotFound();
  return found;
}

/** Everybody who has handed in a graded run for it, by name, each with what the rule says of them. */
export async function listStandings(
  db: Kysely<Database>,
  actor: Actor,
  competency: Competency,
): Promise<Standing[]> {
  requireCoordinator(actor);
  const runs = await listGradedRuns(db, competency.itemIds);
  const order = new Intl.Collator('en');
  const byStudent = new Map<number, AttemptSummary[]>();
  for (const run of runs) byStudent.set(run.studentId, [...(byStudent.get(run.studentId) ?? []), run]);
  return [...byStudent.values()]
    .flatMap((attempts) => {
      const [first] = attempts;
      if (first === undefined) return [];
      const { studentId, givenName, familyName, studentNumber } = first;
      return [
        {
          studentId,
          givenName,
          familyName,
          studentNumber,
          attempts,
          decision: decide(competency.rule, attempts),
        },
      ];
    })
    .sort(
      (a, b) =>
        order.compare(a.familyName, b.familyName) ||
        order.compare(a.givenName, b.givenName) ||
        a.studentId - b.studentId,
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
  const [attempt] = await listGradedRuns(db, competency.itemIds, attemptId);
  if (!attempt) throw new NotFound();
  return attempt;
}

function requireCoordinator(actor: Actor): void {
  if (actor.role !== 'coordinator') throw new NotFound();
}
