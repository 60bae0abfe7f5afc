import { type GaugeStudy, gaugeStudy, type LengthUnit } from '../engine/index.ts';
import type { PlacedReading, StudyPlan } from './plan.ts';

export interface StudyReport {
  readonly study: GaugeStudy;
  /** What a person at the engine wants to know, in words. */
  readonly words: readonly string[];
  /** Rows of both methods side by side. */
  readonly lines: readonly {
    readonly name: string;
    readonly anova: StudyFigures;
    readonly ranges: StudyFigures | null;
  }[];
  readonly categories: { readonly anova: string; readonly ranges: string | null };
  readonly interaction: string;
  readonly table: readonly {
    readonly name: string;
    readonly df: number;
    readonly ss: string;
    readonly ms: string;
    readonly f: string;
    readonly p: string;
  }[];
}

interface StudyFigures {
  readonly sd: string;
  readonly spread: string;
  readonly percent: string;
  readonly ofTolerance: string | null;
}

/** What is still to be entered, by person and round. */
export function missingOf(
  plan: StudyPlan,
  readings: readonly PlacedReading[],
): readonly { person: number; repeat: number; missing: number }[] {
  return plan.people.flatMap((_, person) =>
    Array.from({ length: plan.repeats }, (__, repeat) => ({
      person,
      repeat,
      missing:
        plan.parts.length - readings.filter((one) => one.person === person && one.repeat === repeat).length,
    })),
  );
}

/**
 * What a study says, in words first: how far the same person's readings scatter, how far people differ, and whether the gauge can tell the
 * parts apart. Null while readings are missing: both methods need every part from everybody equally often. Source: `gaugeStudy`
 * (AIAG, Measurement Systems Analysis, 4th edition); 10 and 30 per cent of the tolerance as it gives them, from memory.
 */
export function reportOf(plan: StudyPlan, readings: readonly PlacedReading[]): StudyReport | null {
  if (readings.length < plan.parts.length * plan.people.length * plan.repeats) return null;
  // In the order of the plan, so that parts and people stand as they were named.
  const sorted = [...readings].sort(
    (one, other) => one.part - other.part || one.person - other.person || one.repeat - other.repeat,
  );
  const study = gaugeStudy(
    sorted.map(({ part, person, value }) => ({ part, appraiser: person, value })),
    plan.tolerance === null ? {} : { tolerance: plan.tolerance },
  );
  const { anova, averageAndRange } = study;
  const figures = (line: {
    sd: number;
    studyVariation: number;
    percentOfStudy: number;
    percentOfTolerance: number | null;
  }): StudyFigures => ({
    sd: digits(line.sd, 5),
    spread: digits(line.studyVariation, 5),
    percent: line.percentOfStudy.toFixed(2),
    ofTolerance: line.percentOfTolerance === null ? null : line.percentOfTolerance.toFixed(2),
  });
  const names = [
    ['Same person again (EV)', 'repeatability'],
    ['Between people (AV)', 'reproducibility'],
    ['Both together (GRR)', 'gauge'],
    ['Between parts (PV)', 'part'],
    ['All together (TV)', 'total'],
  ] as const;
  const { table, pooled } = anova;
  const tested = pooled ?? table;
  const rows = [
    ['Parts', tested.part],
    ['People', tested.appraiser],
    ...(pooled === null ? ([['Parts by people', table.interaction]] as const) : []),
    [pooled === null ? 'Same again' : 'Same again, with parts by people', tested.equipment],
  ] as const;
  return {
    study,
    words: inWords(plan, study),
    lines: names.map(([name, key]) => ({
      name,
      anova: figures(anova[key]),
      ranges: averageAndRange === null ? null : figures(averageAndRange[key]),
    })),
    categories: {
      anova: categoriesWords(anova.categories),
      ranges: averageAndRange === null ? null : categoriesWords(averageAndRange.categories),
    },
    interaction:
      pooled === null
        ? 'People differ by part: the interaction is kept apart.'
        : `The interaction of parts and people is made one with the scatter${table.interaction.p === null ? '' : `, as its p is ${table.interaction.p.toFixed(3)}`}.`,
    table: rows.map(([name, line]) => ({
      name,
      df: line.degreesOfFreedom,
      ss: digits(line.sumOfSquares, 7),
      ms: digits(line.meanSquare, 6),
      f: 'f' in line && line.f !== null ? line.f.toFixed(3) : '',
      p: 'p' in line && line.p !== null ? (line.p < 0.0005 ? 'under 0.001' : line.p.toFixed(3)) : '',
    })),
  };
}

function categoriesWords(categories: number): string {
  return Number.isFinite(categories) ? String(categories) : 'without end';
}

function inWords(plan: StudyPlan, { anova }: GaugeStudy): readonly string[] {
  const same = twice(anova.repeatability.sd, plan.unit);
  const people = twice(anova.reproducibility.sd, plan.unit);
  const both = twice(anova.gauge.sd, plan.unit);
  const words = [
    `The same person on the same part again: within ± ${same}, about 95 times in 100.`,
    anova.reproducibility.sd === 0
      ? 'Between people: no difference that the scatter does not explain.'
      : `Between people: another ± ${people}.`,
    `Anybody’s reading: within ± ${both}.`,
  ];
  const share = anova.gauge.percentOfTolerance;
  if (share !== null)
    words.push(
      `That takes ${share.toFixed(0)} % of the tolerance: ${share <= 10 ? 'good' : share <= 30 ? 'may do, depending on the job' : 'too much for this job'}.`,
    );
  words.push(
    anova.categories >= 5
      ? `It tells ${categoriesWords(anova.categories)} groups of these parts apart: enough to judge them.`
      : `It tells only ${categoriesWords(anova.categories)} ${anova.categories === 1 ? 'group' : 'groups'} of these parts apart; five are usually asked for.`,
  );
  return words;
}

/** So many figures that count, and never a power of ten: a shop reads 0.0000036. */
function digits(value: number, count: number): string {
  return new Intl.NumberFormat('en', {
    minimumSignificantDigits: count,
    maximumSignificantDigits: count,
    useGrouping: false,
  }).format(value);
}

/** Two standard deviations in thousandths of an inch, or hundredths of a millimetre: what a shop speaks in. */
function twice(sd: number, unit: LengthUnit): string {
  const scale = unit === 'in' ? 1000 : 100;
  const value = 2 * sd * scale;
  return `${value >= 100 ? value.toFixed(0) : digits(value, 2)} ${unit === 'in' ? 'thousandths' : 'hundredths of a millimetre'}`;
}
