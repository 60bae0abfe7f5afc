import {
  convertLength,
  DIALS,
  type Dial,
  explainReading,
  type FollowUp,
  type JudgeLimits,
  judge,
  type LengthUnit,
  type Mistake,
  parseLength,
  type Verdict,
} from '../engine/index.ts';
import type { Reference } from '../shop/index.ts';
import type { Problems, Values } from '../web/forms.ts';

/** What a student reads and concludes at a shop engine; lengths in the engine's unit. */
export interface ShopReading {
  readonly high: number | null;
  readonly back: number | null;
  readonly second: number | null;
  readonly lift: number | null;
  readonly verdict: Verdict | null;
  readonly followUp: FollowUp | null;
  readonly reason: string;
  readonly torques: string;
}

/** Furthest two readings of one lobe may lie apart. Common practice, no source. */
const REPEAT: Readonly<Record<LengthUnit, number>> = { in: 0.001, mm: 0.02 };
const MOST: Readonly<Record<LengthUnit, number>> = { in: 2, mm: 50 };
/** A hair, so that thousandths are equal in binary too. */
const HAIR = 1e-9;
const VERDICTS = ['inside', 'below', 'above', 'too-close-to-call'] as const satisfies readonly Verdict[];
const FOLLOW_UPS = [
  'return-to-service',
  'measure-again',
  'correct-set-up',
  'replace',
] as const satisfies readonly FollowUp[];

/** Reads what was typed. Blank boxes stay blank; what is no length is a problem beside its box. */
export function readShopReading(
  typed: Values,
  unit: LengthUnit,
): { readonly reading: ShopReading; readonly problems: Problems } {
  const problems: Problems = {};
  const length = (name: string): number | null => {
    const read = parseLength(typed[name] ?? '', unit, MOST[unit]);
    if (read.ok) return read.value;
    problems[name] = `Write a length in ${unit}.`;
    return null;
  };
  const words = (name: string) => {
    const text = (typed[name] ?? '').trim();
    if (text.length > 300) problems[name] = 'Write at most 300 letters.';
    return text.slice(0, 300);
  };
  const one = <T extends string>(of: readonly T[], text: string | undefined) =>
    of.find((value) => value === text) ?? null;
  return {
    reading: {
      ...{ high: length('high'), back: length('back'), second: length('second'), lift: length('lift') },
      verdict: one(VERDICTS, typed.verdict),
      followUp: one(FOLLOW_UPS, typed.followUp),
      ...{ reason: words('reason'), torques: words('torques') },
    },
    problems,
  };
}

export interface GradedShopReading {
  /** Lift less reference, in the engine's unit; null where either is missing. */
  readonly difference: number | null;
  /** Within the agreement asked for? Null where there is nothing to compare. */
  readonly agrees: boolean | null;
  /** Probability that the lift truly lies within it, 0 to 1, by the uncertainty of the reference. */
  readonly probability: number | null;
  /** The likeliest mistake behind a lift that does not agree; null where none has a name. */
  readonly mistake: Mistake | null;
  /** Do the two readings agree within 0.001 in (0.02 mm)? Null where one is missing. */
  readonly repeats: boolean | null;
  /** Is the verdict what the limits say of the reference, or of the student's own lift where no reference holds? */
  readonly verdictRight: boolean | null;
}

/**
 * What a reading at a shop engine is worth. It is held against the reference with the reference's uncertainty, and explained as one at a
 * practice engine is. All lengths, limits and `agreement` in `unit`; `graduation` is the gauge's. Close to a limit by less than the
 * uncertainty, "too close to call" and either side of that limit are right. Source: `judge` and `explainReading`; agreement is common practice, no source.
 */
export function gradeShopReading(
  reading: ShopReading,
  given: {
    readonly unit: LengthUnit;
    readonly limits: JudgeLimits;
    readonly reference: Reference | null;
    readonly agreement: number;
    readonly graduation: number;
  },
): GradedShopReading {
  const { unit, limits, reference, agreement, graduation } = given;
  const { high, second, lift, back } = reading;
  const repeats = high === null || second === null ? null : Math.abs(high - second) <= REPEAT[unit] + HAIR;
  const verdictRight = rightVerdict(reading, limits, reference);
  if (lift === null || reference === null)
    return { difference: null, agrees: null, probability: null, mistake: null, repeats, verdictRight };
  const difference = lift - reference.mean;
  const { verdict, probability } = judge(
    difference,
    { expanded: reference.expanded, k: reference.k },
    { lower: -agreement - HAIR, upper: agreement + HAIR },
    'simple',
  );
  const agrees = verdict === 'inside';
  const dial = agrees ? null : dialOf(unit, graduation);
  const [likeliest] =
    dial === null ? [] : explainReading(dial, { high: reference.mean, returned: back }, { lift });
  const mistake = likeliest === undefined || likeliest.mistake === 'none-of-these' ? null : likeliest.mistake;
  return { difference, agrees, probability, mistake, repeats, verdictRight };
}

function rightVerdict(
  { lift, verdict }: ShopReading,
  limits: JudgeLimits,
  reference: Reference | null,
): boolean | null {
  if (verdict === null) return null;
  if (reference === null) return lift === null ? null : judge(lift, null, limits).verdict === verdict;
  const { expanded, k, mean } = reference;
  const expected = judge(mean, { expanded, k }, limits, 'guarded').verdict;
  if (expected !== 'too-close-to-call') return verdict === expected;
  const nearLower = limits.lower !== null && Math.abs(mean - limits.lower) <= expanded + HAIR;
  const nearUpper = limits.upper !== null && Math.abs(mean - limits.upper) <= expanded + HAIR;
  return (
    verdict === 'too-close-to-call' ||
    verdict === 'inside' ||
    (verdict === 'below' && nearLower) ||
    (verdict === 'above' && nearUpper)
  );
}

/** A dial with such graduations; its turn is what a turn not counted is worth. */
function dialOf(unit: LengthUnit, graduation: number): Dial | null {
  const dials: readonly Dial[] = Object.values(DIALS);
  return dials.find((dial) => dial.unit === unit && Math.abs(dial.graduation - graduation) < HAIR) ?? null;
}

/** An agreement as it is written on a sheet, in the unit of an engine. */
export function agreementIn(
  agreement: { readonly unit: LengthUnit; readonly value: number },
  unit: LengthUnit,
): number {
  return convertLength(agreement.value, agreement.unit, unit);
}
