import { CRITERIA } from '../engine/index.ts';
import type { Evidence, RunEvidence, SignOffEvidence } from './evidence.ts';
import type { EvidenceRule } from './evidence-rule.ts';

/** A rule met: when, and by what. */
export interface Meeting {
  readonly at: string;
  readonly runs: readonly RunEvidence[];
  readonly signOffs: readonly SignOffEvidence[];
}

/** Why a run by itself does not count; empty when it does. */
export function reasonsAgainst({ runs }: EvidenceRule, run: RunEvidence): readonly string[] {
  const reasons: string[] = [];
  const total = sum(run.points);
  const least = leastPoints(runs.atLeastPercent, sum(run.outOf));
  if (total < least) reasons.push(`${total} points, ${least} are needed`);
  if (runs.noStops && run.stops > 0) reasons.push(run.stops === 1 ? 'one stop' : `${run.stops} stops`);
  for (const criterion of runs.full)
    if (run.points[criterion] < run.outOf[criterion]) reasons.push(`${criterion} not in full`);
  return reasons;
}

function sum(points: RunEvidence['points']): number {
  return Math.round(CRITERIA.reduce((all, criterion) => all + points[criterion], 0) * 10) / 10;
}

/** Points are given in tenths, so the least is one of those too. */
function leastPoints(percent: number, outOf: number): number {
  return Math.ceil(Math.round(percent * outOf * 1e6) / 1e7) / 10;
}

/** What is still asked of runs that qualify, all together. */
export function missingOf({ runs }: EvidenceRule, counted: readonly RunEvidence[]): readonly string[] {
  if (runs.count === 0) return [];
  const missing: string[] = [];
  const more = (wanted: number, there: number, words: (left: number) => string) => {
    if (there < wanted) missing.push(words(wanted - there));
  };
  more(
    runs.count,
    counted.length,
    (left) =>
      `${left} more ${left === 1 ? 'graded run' : 'graded runs'} at ${runs.atLeastPercent} % or more${runs.noStops ? ', without a stop' : ''}${runs.inARow && runs.count > 1 ? ', in a row' : ''}`,
  );
  more(runs.engines, new Set(counted.map(({ engine }) => engine)).size, () => 'another engine');
  more(runs.days, new Set(counted.map(({ day }) => day)).size, () => 'another day');
  more(runs.badParts, counted.filter(({ badPart }) => badPart).length, (left) =>
    left === 1 ? 'a run with a part outside its limits' : `${left} runs with a part outside its limits`,
  );
  more(runs.setUpFaults, counted.filter(({ setUpFault }) => setUpFault).length, (left) =>
    left === 1 ? 'a run with a fault in the set-up' : `${left} runs with a fault in the set-up`,
  );
  return missing;
}

/** How far the evidence has come towards meeting the rule the next time. */
export interface Progress {
  /** Runs that count now, and sign-offs. */
  readonly runs: readonly RunEvidence[];
  readonly signOffs: readonly SignOffEvidence[];
  readonly runsMet: boolean;
  readonly missing: readonly string[];
}

interface Step {
  readonly at: string;
  readonly run?: RunEvidence;
  readonly signOff?: SignOffEvidence;
}

/**
 * Goes through the evidence in order and says each time the rule was met. After that everything is counted anew, so that what is held for a
 * time can be met again. Runs stop counting once enough of them do: in a row, a run that does not qualify sends them back to none, but not
 * when they had been enough already. Pure.
 */
export function meetingsOf(
  rule: EvidenceRule,
  { runs, signOffs }: Evidence,
): { readonly meetings: readonly Meeting[]; readonly progress: Progress } {
  const steps: Step[] = [
    ...runs.map((run): Step => ({ at: run.at, run })),
    ...signOffs.map((signOff): Step => ({ at: signOff.at, signOff })),
  ].sort((one, other) => (one.at < other.at ? -1 : one.at > other.at ? 1 : 0));
  const meetings: Meeting[] = [];
  let counted: RunEvidence[] = [];
  let signed: SignOffEvidence[] = [];
  let runsMet = rule.runs.count === 0;
  for (const { at, run, signOff } of steps) {
    if (signOff?.passed === true && signed.length < rule.signOffs) signed.push(signOff);
    if (run !== undefined && !runsMet) {
      const qualifies = reasonsAgainst(rule, run).length === 0;
      if (qualifies) counted.push(run);
      else if (rule.runs.inARow) counted = [];
      runsMet = qualifies && missingOf(rule, counted).length === 0;
    }
    if (runsMet && signed.length >= rule.signOffs) {
      meetings.push({ at, runs: counted, signOffs: signed });
      counted = [];
      signed = [];
      runsMet = rule.runs.count === 0;
    }
  }
  const left = rule.signOffs - signed.length;
  return {
    meetings,
    progress: {
      ...{ runs: counted, signOffs: signed, runsMet },
      missing: [
        ...(runsMet ? [] : missingOf(rule, counted)),
        ...(left > 0
          ? [left === 1 ? 'a sign-off on a shop engine' : `${left} sign-offs on a shop engine`]
          : []),
      ],
    },
  };
}
