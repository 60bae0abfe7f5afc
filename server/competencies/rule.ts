import { z } from 'zod';
import { CRITERIA, FULL_POINTS } from '../engine/index.ts';

/** What evidence a competency asks for. A rule is kept as JSON and never edited: a new version is added. */
export const evidenceRule = z.strictObject({
  /** How many graded runs must qualify. */
  gradedRuns: z.number().int().min(1),
  /** Share of all points, after changes, that each must reach. */
  atLeastPercent: z.number().min(0).max(100),
  noStops: z.boolean(),
  /** Sign-offs on a shop engine. Simulated work alone never completes a competency, whatever stands here. */
  shopSignOffs: z.number().int().min(0),
  evidence: z.literal('simulated'),
});

export type EvidenceRule = z.infer<typeof evidenceRule>;

/** An attempt as far as a rule looks at it. */
export interface Evidence {
  readonly id: string;
  readonly way: 'practice' | 'graded-run';
  /** Null until it is handed in. */
  readonly handedInAt: string | null;
  /** After changes; null until it is graded. */
  readonly points: number | null;
  readonly stops: number;
}

export interface JudgedEvidence {
  readonly id: string;
  readonly counts: boolean;
  /** Why it does not count; empty when it does. */
  readonly reasons: readonly string[];
}

export interface Decision {
  /** Is the simulated part met? The whole competency never is by simulated work alone. */
  readonly meetsSimulatedPart: boolean;
  /** The runs that count, in the order they were handed in. */
  readonly counting: readonly string[];
  readonly attempts: readonly JudgedEvidence[];
  /** What is still missing for the simulated part. */
  readonly missing: readonly string[];
}

const ALL_POINTS = CRITERIA.reduce((sum, criterion) => sum + FULL_POINTS[criterion], 0);

/** Decides a rule over one student's attempts. Pure; attempts may come in any order. */
export function decide(rule: EvidenceRule, attempts: readonly Evidence[]): Decision {
  const inOrder = [...attempts].sort((a, b) => (a.handedInAt ?? '~').localeCompare(b.handedInAt ?? '~'));
  const judged = inOrder.map((attempt) => judgeAttempt(rule, attempt));
  const counting = judged.filter(({ counts }) => counts).map(({ id }) => id);
  const short = rule.gradedRuns - counting.length;
  return {
    meetsSimulatedPart: short <= 0,
    counting,
    attempts: judged,
    missing:
      short <= 0
        ? []
        : [
            `${short} more ${short === 1 ? 'graded run' : 'graded runs'} at ${rule.atLeastPercent} % or more${rule.noStops ? ', without a stop' : ''}`,
          ],
  };
}

function judgeAttempt(rule: EvidenceRule, attempt: Evidence): JudgedEvidence {
  const reasons: string[] = [];
  if (attempt.way !== 'graded-run') reasons.push('practice, not a graded run');
  if (attempt.handedInAt === null) reasons.push('not handed in');
  else if (attempt.points === null) reasons.push('not graded');
  if (attempt.points !== null && attempt.points < leastPoints(rule)) {
    reasons.push(`${attempt.points} points, ${leastPoints(rule)} are needed`);
  }
  if (rule.noStops && attempt.stops > 0)
    reasons.push(attempt.stops === 1 ? 'one stop' : `${attempt.stops} stops`);
  return { id: attempt.id, counts: reasons.length === 0, reasons };
}

/** Points are given in tenths, so the least is one of those too. */
function leastPoints(rule: EvidenceRule): number {
  return Math.ceil(Math.round(rule.atLeastPercent * ALL_POINTS * 1e6) / 1e7) / 10;
}

/** The rule in words. */
export function ruleWords(rule: EvidenceRule): string {
  const runs = rule.gradedRuns === 1 ? 'One graded run' : `${rule.gradedRuns} graded runs`;
  const stops = rule.noStops ? ' and without a stop' : '';
  const signOffs =
    rule.shopSignOffs === 0
      ? ''
      : `, and ${rule.shopSignOffs === 1 ? 'one sign-off' : `${rule.shopSignOffs} sign-offs`} on a shop engine`;
  return `${runs} on a practice engine at ${rule.atLeastPercent} % of the points or more${stops}${signOffs}.`;
}
