import { z } from 'zod';
import { CRITERIA, type Criterion } from '../engine/index.ts';
import { CRITERION_WORDS } from '../web/words/index.ts';

const count = (most: number) => z.number().int().min(0).max(most);

/** What graded runs a rule asks for. Each must qualify by itself; the rest is asked of all that count together. */
const runsAsked = z.strictObject({
  count: count(20),
  /** One after the other, with none between that does not qualify. */
  inARow: z.boolean(),
  /** Share of all points, after changes, that each must reach. */
  atLeastPercent: z.number().min(0).max(100),
  noStops: z.boolean(),
  /** Criteria that each must have in full. */
  full: z.array(z.enum(CRITERIA as [Criterion, ...Criterion[]])),
  /** On so many engines, and so many days by the clock of the section. */
  engines: count(20),
  days: count(20),
  /** So many of them with a part outside its limits; with something wrong in the set-up as it was found. */
  badParts: count(20),
  setUpFaults: count(20),
});

/** For how long a competency is held once its rule is met. */
const holds = z.union([
  z.literal('for-good'),
  z.literal('term'),
  z.strictObject({ months: z.number().int().min(1).max(120) }),
]);

const second = z.strictObject({
  version: z.literal(2),
  runs: runsAsked,
  /** Sign-offs on a shop engine, passed. Without any, the competency is never complete: practice engines alone do not make one. */
  signOffs: count(10),
  holds,
});

export type EvidenceRule = z.infer<typeof second>;

/** As rules were kept at first; one of them reads as what it always meant. */
const first = z
  .strictObject({
    gradedRuns: z.number().int().min(1),
    atLeastPercent: z.number().min(0).max(100),
    noStops: z.boolean(),
    shopSignOffs: z.number().int().min(0),
    evidence: z.literal('simulated'),
  })
  .transform(
    ({ gradedRuns, atLeastPercent, noStops, shopSignOffs }): EvidenceRule => ({
      version: 2,
      runs: {
        ...{ count: gradedRuns, inARow: false, atLeastPercent, noStops, full: [] },
        ...{ engines: 0, days: 0, badParts: 0, setUpFaults: 0 },
      },
      signOffs: shopSignOffs,
      holds: 'for-good',
    }),
  );

/** What evidence a competency asks for. A rule is kept as JSON and never edited: a new version is added. */
export const evidenceRule = z
  .union([second, first])
  .refine(({ runs, signOffs }) => runs.count + signOffs > 0, 'A rule asks for a run or a sign-off at least.');

/** The rule that is offered first. Source: the trade's own rule for injection-cam lift; common practice, no source. */
export const USUAL_RULE: EvidenceRule = {
  version: 2,
  runs: {
    ...{ count: 2, inARow: true, atLeastPercent: 80, noStops: true, full: [] },
    ...{ engines: 2, days: 2, badParts: 1, setUpFaults: 1 },
  },
  signOffs: 1,
  holds: 'for-good',
};

/** The rule in words, for whoever must live by it. */
export function ruleWords({ runs, signOffs, holds: length }: EvidenceRule): string {
  const parts = [
    runs.count === 0 ? '' : runsWords(runs),
    signOffs === 0
      ? ''
      : `${signOffs === 1 ? 'one sign-off' : `${signOffs} sign-offs`} on a shop engine, passed`,
  ].filter((part) => part !== '');
  const asked = parts.join('; and ');
  const held =
    length === 'for-good'
      ? 'Dated, and held for good.'
      : length === 'term'
        ? 'Held to the end of the term; then it is met anew.'
        : `Held for ${length.months === 1 ? 'a month' : `${length.months} months`}; then it is met anew.`;
  const practice =
    signOffs === 0 ? ' Practice engines alone never complete a competency: this one stays practice.' : '';
  return `${asked.charAt(0).toUpperCase()}${asked.slice(1)}. ${held}${practice}`;
}

function runsWords(runs: EvidenceRule['runs']): string {
  const one = runs.count === 1;
  const each = [
    `at ${runs.atLeastPercent} % of the points or more`,
    runs.noStops ? 'without a stop' : '',
    'without help',
    ...runs.full.map((criterion) => `${CRITERION_WORDS[criterion].toLowerCase()} in full`),
  ].filter((words) => words !== '');
  const of = (number: number, words: string) =>
    number === 0 ? '' : one ? `with ${words}` : `${number === 1 ? 'one' : number} of them with ${words}`;
  const together = [
    runs.engines > 1 ? `on ${runs.engines} different engines` : '',
    runs.days > 1 ? `on ${runs.days} different days` : '',
    of(runs.badParts, 'a part outside its limits'),
    of(runs.setUpFaults, 'a fault in the set-up'),
  ].filter((words) => words !== '');
  return [
    `${one ? 'one graded run' : `${runs.count} graded runs`}${runs.inARow && !one ? ' in a row' : ''}`,
    one ? each.join(', ') : `each ${each.join(', ')}`,
    ...together,
  ].join(', ');
}
