import { type EvidenceRule, USUAL_RULE } from '../../../server/competencies/evidence-rule.ts';
import type { Store } from '../../../server/database/open.ts';

/** One run at 80 % without a stop, and a sign-off: what a test needs that is not about rules. */
export const ONE_RUN: EvidenceRule = {
  ...USUAL_RULE,
  runs: { ...USUAL_RULE.runs, count: 1, engines: 0, days: 0, badParts: 0, setUpFaults: 0 },
};

/** Adds a version of the rule of the first competency; the graded runs of the demo sheet count, or these. */
export async function ruleInForce(
  { db }: Store,
  version: number,
  rule: EvidenceRule,
  from: string,
  items: readonly number[] = [3, 5],
): Promise<void> {
  await db
    .insertInto('evidence_rules')
    .values({
      competency_id: 1,
      version,
      rule: JSON.stringify(rule),
      in_force_from: from,
      items: JSON.stringify(items),
    })
    .execute();
}
