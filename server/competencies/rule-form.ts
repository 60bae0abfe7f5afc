import { CRITERIA, type Criterion } from '../engine/index.ts';
import type { Problems, Values } from '../web/forms.ts';
import { type EvidenceRule, evidenceRule } from './evidence-rule.ts';

const COUNTS = [
  ['runs', 'Write how many graded runs, 0 to 20.', 20],
  ['engines', 'Write a whole number, 0 to 20.', 20],
  ['days', 'Write a whole number, 0 to 20.', 20],
  ['badParts', 'Write a whole number, 0 to 20.', 20],
  ['setUpFaults', 'Write a whole number, 0 to 20.', 20],
  ['signOffs', 'Write how many sign-offs, 0 to 10.', 10],
] as const;

/** A rule as its form shows it. */
export function ruleValues({ runs, signOffs, holds }: EvidenceRule): Values {
  return {
    ...{ runs: String(runs.count), percent: String(runs.atLeastPercent), signOffs: String(signOffs) },
    ...{ engines: String(runs.engines), days: String(runs.days), badParts: String(runs.badParts) },
    ...{ setUpFaults: String(runs.setUpFaults), inARow: runs.inARow ? 'on' : '' },
    noStops: runs.noStops ? 'on' : '',
    ...Object.fromEntries(CRITERIA.map((one) => [`full-${one}`, runs.full.includes(one) ? 'on' : ''])),
    holds: typeof holds === 'string' ? holds : 'months',
    months: typeof holds === 'string' ? '' : String(holds.months),
  };
}

/** Reads the form of a rule; null with problems by field where it is none. */
export function readRule(values: Values, problems: Problems): EvidenceRule | null {
  const counts = Object.fromEntries(
    COUNTS.map(([name, sentence, most]) => {
      const typed = (values[name] ?? '').trim();
      const value = typed === '' ? 0 : /^\d{1,2}$/.test(typed) ? Number(typed) : Number.NaN;
      if (!(value <= most)) problems[name] = sentence;
      return [name, value];
    }),
  ) as Record<(typeof COUNTS)[number][0], number>;
  const percent = Number((values.percent ?? '').trim().replace(',', '.') || Number.NaN);
  if (!(percent >= 0 && percent <= 100)) problems.percent = 'Write a share of the points, 0 to 100.';
  const months = (values.months ?? '').trim();
  if (
    values.holds === 'months' &&
    !(/^\d{1,3}$/.test(months) && Number(months) >= 1 && Number(months) <= 120)
  )
    problems.months = 'Write how many months, 1 to 120.';
  if (!['for-good', 'term', 'months'].includes(values.holds ?? '')) problems.holds = 'Choose for how long.';
  if (counts.runs + counts.signOffs === 0) problems.runs = 'A rule asks for a run or a sign-off at least.';
  for (const name of ['engines', 'days', 'badParts', 'setUpFaults'] as const)
    if (counts[name] > counts.runs && problems[name] === undefined)
      problems[name] = 'This asks for more than there are runs.';
  if (Object.keys(problems).length > 0) return null;
  return evidenceRule.parse({
    version: 2,
    runs: {
      ...{ count: counts.runs, inARow: values.inARow === 'on', atLeastPercent: percent },
      ...{ noStops: values.noStops === 'on', engines: counts.engines, days: counts.days },
      ...{ badParts: counts.badParts, setUpFaults: counts.setUpFaults },
      full: CRITERIA.filter((one: Criterion) => values[`full-${one}`] === 'on'),
    },
    signOffs: counts.signOffs,
    holds: values.holds === 'months' ? { months: Number(months) } : values.holds,
  });
}
