import type { Kysely } from 'kysely';
import { listCompetencies, ruleWords, STATE_WORDS } from '../competencies/index.ts';
import type { Database } from '../database/tables.ts';
import { personRecords, type RecordedStanding } from '../exports/index.ts';
import { listGradedRuns } from '../review/index.ts';
import type { Actor } from '../web/actor.ts';

/** A graded run on a practice engine, or a sign-off on a shop engine, as a transcript tells it. */
export type TranscriptEvidence =
  | {
      readonly kind: 'practice engine';
      readonly at: string;
      readonly what: string;
      readonly section: string;
      readonly points: number;
      readonly outOf: number;
      readonly gradedBy: string;
    }
  | {
      readonly kind: 'shop engine';
      readonly at: string;
      readonly what: string;
      readonly section: string;
      readonly assessor: string;
      readonly assessorStanding: string;
      readonly countersignedBy: string;
      readonly gauge: string;
      readonly gaugeCheckDue: string;
      readonly wrench: string;
      readonly wrenchCheckDue: string;
    };

export interface TranscriptLine {
  readonly code: string;
  readonly uuid: string;
  readonly title: string;
  readonly statement: string;
  readonly course: string;
  readonly words: string;
  readonly holds: boolean;
  readonly since: string | null;
  readonly until: string | null;
  readonly ruleVersion: number | null;
  readonly rule: string;
  /** Graded runs handed in for it, those that do not count too. */
  readonly tries: number;
  readonly evidence: readonly TranscriptEvidence[];
}

/** What a transcript says, but for the name. It is kept as it was printed. */
export interface TranscriptContent {
  readonly version: 1;
  readonly program: string;
  readonly asOf: string;
  readonly issuedAt: string;
  readonly lines: readonly TranscriptLine[];
}

/** What one student's transcript says as of an instant: every competency that anything is known for. For coordinators. */
export async function transcriptContent(
  db: Kysely<Database>,
  actor: Actor,
  given: { readonly studentId: number; readonly asOf: string; readonly program: string; readonly now: Date },
): Promise<TranscriptContent> {
  const { studentId, asOf, program, now } = given;
  const competencies = await listCompetencies(db, actor, new Date(asOf));
  const standings: RecordedStanding[] = [];
  for await (const people of personRecords(db, competencies, asOf, [studentId]))
    for (const person of people) standings.push(...person.standings);
  const lines: TranscriptLine[] = [];
  for (const one of standings) {
    if (one.standing.state === 'none') continue;
    const runs = await listGradedRuns(db, one.competency.itemIds, { studentId });
    const tries = runs.filter(({ handedInAt }) => handedInAt !== null && handedInAt <= asOf).length;
    lines.push(lineOf(one, tries));
  }
  return { version: 1, program, asOf, issuedAt: now.toISOString(), lines };
}

function lineOf({ competency, standing, runs, signOffs }: RecordedStanding, tries: number): TranscriptLine {
  const rule = competency.rules.find(({ version }) => version === standing.ruleVersion)?.rule;
  return {
    ...{ code: competency.code, uuid: competency.uuid, title: competency.title },
    ...{ statement: competency.statement, course: competency.course },
    words: STATE_WORDS[standing.state],
    holds: standing.state === 'held' || standing.state === 'granted',
    ...{ since: standing.since, until: standing.until, ruleVersion: standing.ruleVersion, tries },
    rule: rule === undefined ? '' : ruleWords(rule),
    evidence: [
      ...runs.map((run) => ({
        ...{ kind: 'practice engine' as const, at: run.at, what: run.itemTitle },
        ...{ section: `${run.sectionName}, ${run.term}`, points: run.points, outOf: run.outOf },
        gradedBy: `measuring engine ${run.gradedByEngine}`,
      })),
      ...signOffs.map(({ at, facts }) => ({
        ...{ kind: 'shop engine' as const, at, what: facts.item, section: `${facts.section}, ${facts.term}` },
        ...{ assessor: facts.assessor, assessorStanding: facts.assessorStanding },
        ...{ countersignedBy: facts.countersignedBy, gauge: facts.gauge?.number ?? '' },
        ...{ gaugeCheckDue: facts.gauge?.dueOn ?? '', wrench: facts.wrench?.number ?? '' },
        wrenchCheckDue: facts.wrench?.dueOn ?? '',
      })),
    ],
  };
}
