/** When a sheet is due and what comes after, for one person. */
export interface DueRule {
  /** ISO 8601 in UTC; null is never due. */
  readonly dueAt: string | null;
  /** Per cent of the score taken off for each day begun after that, 0 to 100. */
  readonly latePercent: number;
  /** For how many days after that work still counts; null for as long as the section runs. */
  readonly lateDays: number | null;
}

export interface Lateness {
  /** Days begun since it was due; 0 is in time. */
  readonly days: number;
  /** What of the score is left, 0 to 1. It touches the score of the course alone, never a competency. */
  readonly factor: number;
  /** Handed in after the last day on which it counts. */
  readonly tooLate: boolean;
}

const DAY_MS = 86_400_000;

/** How late something handed in at `at` is. A day is 24 hours from the moment it was due, whatever the wall clock did meanwhile. */
export function lateness(rule: DueRule, at: string): Lateness {
  if (rule.dueAt === null) return { days: 0, factor: 1, tooLate: false };
  const over = Date.parse(at) - Date.parse(rule.dueAt);
  if (over <= 0) return { days: 0, factor: 1, tooLate: false };
  const days = Math.ceil(over / DAY_MS);
  const tooLate = rule.lateDays !== null && days > rule.lateDays;
  return { days, factor: tooLate ? 0 : Math.max(0, 1 - (rule.latePercent / 100) * days), tooLate };
}

/** Is it over, so that nothing can be begun any more and what is missing counts as nothing? */
export function isClosed(rule: DueRule, now: string): boolean {
  return lateness(rule, now).tooLate;
}
