import type { CoordinatorsWord, Evidence } from './evidence.ts';
import type { EvidenceRule } from './evidence-rule.ts';
import { type Meeting, meetingsOf, type Progress } from './meeting.ts';

/** A rule and from when on it is in force; the next version ends it. */
export interface RuleInForce {
  readonly version: number;
  readonly from: string;
  readonly rule: EvidenceRule;
  /** Work that counts for it. */
  readonly itemIds: readonly number[];
}

/** A term of the program; both days belong to it. */
export interface Term {
  readonly name: string;
  readonly beginsOn: string;
  readonly endsOn: string;
}

/**
 * `held` and `granted` hold it, by evidence or by a coordinator's word. `practice`: the part on practice engines is met and no more. `lapsed`:
 * it was held until its time was over. `revoked`: a coordinator took it away and nothing since makes up for it.
 */
export type StandingState = 'held' | 'granted' | 'practice' | 'begun' | 'none' | 'lapsed' | 'revoked';

export interface Standing {
  readonly state: StandingState;
  /** Since when it is so; null where there is no such moment. */
  readonly since: string | null;
  /** Until when it is held, or was; null for good. */
  readonly until: string | null;
  /** The rule it is held by; otherwise the one in force. Null before any was. */
  readonly ruleVersion: number | null;
  /** What it is held by, or was last. */
  readonly by: Meeting | null;
  /** How far the evidence has come under the rule in force; null before any was. */
  readonly progress: Progress | null;
}

const NOTHING: Standing = {
  ...{ state: 'none', since: null, until: null, ruleVersion: null, by: null, progress: null },
};

/**
 * Where somebody stands as of an instant, by what was known then: `evidence` and `words` are what there was at `asOf`, grades as they stood.
 * A rule counts while it is in force: once met it is held as it says, whatever rule comes after. A rule that comes into force over evidence that meets it
 * is met from that moment. After a revocation only what comes later counts. Pure.
 */
export function standingAsOf(given: {
  readonly rules: readonly RuleInForce[];
  readonly evidence: Evidence;
  readonly words: readonly CoordinatorsWord[];
  readonly terms: readonly Term[];
  readonly asOf: string;
}): Standing {
  const { asOf, terms } = given;
  const rules = given.rules.filter(({ from }) => from <= asOf);
  const inForce = rules.at(-1);
  const word = given.words.findLast(({ at }) => at <= asOf);
  const after = word?.word === 'revoked' ? word.at : '';
  const evidence = between(given.evidence, after, asOf);
  if (word?.word === 'granted')
    return {
      ...{ state: 'granted', since: word.at, until: null, by: null },
      ruleVersion: inForce?.version ?? null,
      progress:
        inForce === undefined ? null : meetingsOf(inForce.rule, countingFor(inForce, evidence)).progress,
    };
  if (inForce === undefined) return NOTHING;
  const spells = rules.flatMap((one, index) => spellsOf(one, rules[index + 1]?.from, evidence, terms, asOf));
  const holding = spells.filter(({ until }) => until === null || until > asOf);
  const counting = countingFor(inForce, evidence);
  const { progress, meetings } = meetingsOf(inForce.rule, counting);
  const held = holding.reduce<Spell | undefined>(
    (best, one) => (best === undefined || isBetter(one, best) ? one : best),
    undefined,
  );
  if (held !== undefined) return { state: 'held', ...held, progress };
  const base = { ruleVersion: inForce.version, progress, by: null, until: null };
  if (word?.word === 'revoked') return { ...base, state: 'revoked', since: word.at };
  const past = spells.reduce<Spell | undefined>(
    (last, one) => (last === undefined || (one.until ?? '') > (last.until ?? '') ? one : last),
    undefined,
  );
  if (past !== undefined)
    return { ...base, state: 'lapsed', since: past.until, until: past.until, by: past.by };
  const practised = practisedAt(inForce, counting, meetings[0]);
  if (practised !== null) return { ...base, state: 'practice', since: practised };
  const first = [counting.runs[0]?.at, counting.signOffs[0]?.at].filter((at) => at !== undefined).sort()[0];
  return first === undefined
    ? { ...base, state: 'none', since: null }
    : { ...base, state: 'begun', since: first };
}

interface Spell {
  readonly since: string;
  readonly until: string | null;
  readonly ruleVersion: number;
  readonly by: Meeting;
}

/** Held for good before held for a time; of those the longest; then whichever began first. */
function isBetter(one: Spell, other: Spell): boolean {
  if (one.until !== other.until)
    return one.until === null || (other.until !== null && one.until > other.until);
  return one.since < other.since;
}

/** When one rule, while it was in force, made it held. Practice alone never does. */
function spellsOf(
  inForce: RuleInForce,
  to: string | undefined,
  evidence: Evidence,
  terms: readonly Term[],
  asOf: string,
): readonly Spell[] {
  const { rule, version, from } = inForce;
  if (rule.signOffs === 0) return [];
  const counting = countingFor(inForce, evidence);
  const { meetings } = meetingsOf(rule, to === undefined ? counting : before(counting, to));
  return meetings.flatMap((by): Spell[] => {
    // biome-ignore lint/complexity/useMathMinMax: both are times as text, which Math.max cannot compare
    const since = by.at > from ? by.at : from;
    const until = endOf(rule, by.at, terms);
    if (since > asOf || (until !== null && until <= since)) return [];
    return [{ since, until, ruleVersion: version, by }];
  });
}

/** The first instant at which what was met at `at` is no longer held; null for never. */
function endOf({ holds }: EvidenceRule, at: string, terms: readonly Term[]): string | null {
  if (holds === 'for-good') return null;
  if (holds !== 'term') return monthsLater(at, holds.months);
  const day = at.slice(0, 10);
  const term = terms.find(({ beginsOn, endsOn }) => beginsOn <= day && day <= endsOn);
  // Between terms it holds until the next one begins.
  if (term === undefined) {
    const next = terms
      .map(({ beginsOn }) => beginsOn)
      .filter((beginsOn) => beginsOn > day)
      .sort()[0];
    return next === undefined ? null : `${next}T00:00:00.000Z`;
  }
  return new Date(Date.parse(`${term.endsOn}T00:00:00.000Z`) + 86_400_000).toISOString();
}

/** The same day so many months later, or the last of that month; by the calendar of UTC. */
export function monthsLater(at: string, months: number): string {
  const date = new Date(at);
  const day = date.getUTCDate();
  date.setUTCDate(1);
  date.setUTCMonth(date.getUTCMonth() + months);
  const last = new Date(Date.UTC(date.getUTCFullYear(), date.getUTCMonth() + 1, 0)).getUTCDate();
  date.setUTCDate(Math.min(day, last));
  return date.toISOString();
}

/** Since when the practice part is met under the rule in force; null where it is not. */
function practisedAt(
  { rule, from }: RuleInForce,
  evidence: Evidence,
  met: Meeting | undefined,
): string | null {
  if (rule.runs.count === 0) return null;
  const runsAlone = { ...rule, signOffs: 0 };
  const [first] =
    rule.signOffs === 0 && met !== undefined
      ? [met]
      : meetingsOf(runsAlone, { ...evidence, signOffs: [] }).meetings;
  if (first === undefined) return null;
  return first.at > from ? first.at : from;
}

/** The evidence that a rule looks at. */
function countingFor({ itemIds }: RuleInForce, { runs, signOffs }: Evidence): Evidence {
  const counts = ({ itemId }: { readonly itemId: number }) => itemIds.includes(itemId);
  return { runs: runs.filter(counts), signOffs: signOffs.filter(counts) };
}

function between({ runs, signOffs }: Evidence, after: string, until: string): Evidence {
  const isIn = ({ at }: { readonly at: string }) => at > after && at <= until;
  return { runs: runs.filter(isIn), signOffs: signOffs.filter(isIn) };
}

function before({ runs, signOffs }: Evidence, to: string): Evidence {
  const isIn = ({ at }: { readonly at: string }) => at < to;
  return { runs: runs.filter(isIn), signOffs: signOffs.filter(isIn) };
}

export const STATE_WORDS: Readonly<Record<StandingState, string>> = {
  held: 'holds it',
  granted: 'holds it by word',
  practice: 'practice part met',
  begun: 'begun',
  none: 'nothing yet',
  lapsed: 'lapsed',
  revoked: 'revoked',
};
