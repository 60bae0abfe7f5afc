import { CRITERION_WORDS, dayWords } from '../web/words/index.ts';
import type { RunEvidence } from './evidence.ts';
import { reasonsAgainst } from './meeting.ts';
import type { Competency } from './queries.ts';
import type { Standing } from './standing.ts';
import { STATE_WORDS } from './standing.ts';

/** A standing as every page shows it. */
export interface StandingView {
  readonly state: Standing['state'];
  readonly words: string;
  /** `since 14 Sept 2026`, `until 31 Dec 2026`; blank where there is nothing to say. */
  readonly dates: string;
  readonly missing: readonly string[];
}

/** What stands in a cell of the matrix, or beside a name. */
export function standingView(standing: Standing): StandingView {
  const { state, since, until, progress } = standing;
  const day = (at: string) => dayWords(at.slice(0, 10));
  const dates =
    state === 'lapsed'
      ? `since ${day(since ?? '')}`
      : [
          since !== null && state !== 'begun' ? `since ${day(since)}` : '',
          state === 'held' && until !== null ? `until ${day(until)}` : '',
        ]
          .filter((words) => words !== '')
          .join(', ');
  return {
    state,
    words: STATE_WORDS[state],
    dates,
    missing: state === 'held' || state === 'granted' ? [] : (progress?.missing ?? []),
  };
}

/** Why a run by itself does not count by the rule in force, in words; empty when it does. */
export function reasonsOf(competency: Competency, run: RunEvidence): readonly string[] {
  const inForce = competency.rules.find(({ version }) => version === competency.ruleVersion);
  if (!inForce?.itemIds.includes(run.itemId)) return ['the rule in force does not count it'];
  return reasonsAgainst(inForce.rule, run).map(reasonWords);
}

/** `setUp not in full` in words. */
function reasonWords(reason: string): string {
  const [code] = reason.split(' ');
  const words = CRITERION_WORDS[code as keyof typeof CRITERION_WORDS];
  return words === undefined ? reason : reason.replace(code ?? '', words.toLowerCase());
}
