import { localWords } from '../web/local-time.ts';
import { type DueRule, isClosed, lateness } from './late.ts';

/** When a sheet is due and what being late costs, in a sentence or two for the one it is due for; empty where nothing is due. */
export function dueWords(rule: DueRule, zone: string, now: string): string {
  if (rule.dueAt === null) return '';
  const due = `Due ${localWords(rule.dueAt, zone)}.`;
  if (isClosed(rule, now)) return `${due} Closed: what is handed in now no longer counts in the score.`;
  const { days } = lateness(rule, now);
  const cost =
    rule.latePercent > 0 ? ` Late work loses ${rule.latePercent} % of its score for each day begun.` : '';
  const until =
    rule.lateDays === null
      ? ''
      : rule.lateDays === 0
        ? ' Nothing is taken late.'
        : ` It is taken for ${rule.lateDays === 1 ? 'one day' : `${rule.lateDays} days`} after that.`;
  return `${due}${days > 0 ? ' It is late now.' : ''}${cost}${until}`;
}
