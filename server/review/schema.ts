import { z } from 'zod';
import { CRITERIA, type Criterion, FULL_POINTS } from '../engine/index.ts';
import type { Problems, Values } from '../web/forms.ts';
import { CRITERION_WORDS } from '../web/words/index.ts';
import type { GradedAttempt } from './graded-attempt.ts';
import { tenths } from './points.ts';
import type { AttemptSummary } from './queries.ts';

/** Points as a person writes them: a decimal point or comma, tenths at the finest, within the criterion. */
function points(criterion: Criterion) {
  const most = FULL_POINTS[criterion];
  const name = CRITERION_WORDS[criterion];
  return z
    .string(`Write the points for ${name.toLowerCase()}.`)
    .trim()
    .transform((text) => text.replace(',', '.'))
    .refine(
      (text) => /^\d{1,3}(\.\d)?$/.test(text),
      `${name}: write points in tenths at the finest, for example 12.5.`,
    )
    .transform(Number)
    .refine((value) => value <= most, `${name}: ${most} is the most, 0 the least.`)
    .transform(tenths);
}

/** A change of points: all four criteria, and why. */
export const changeForm = z.object({
  setUp: points('setUp'),
  procedure: points('procedure'),
  reading: points('reading'),
  verdict: points('verdict'),
  reason: z
    .string('Write the reason. The student reads it.')
    .trim()
    .min(1, 'Write the reason. The student reads it.')
    .max(1000, 'The reason is too long: 1000 letters are the most.'),
  seen: z.coerce.number().int().nonnegative(),
});

/** A row of the page about one student. */
export interface AttemptRowView extends AttemptSummary {
  readonly startedWhen: string;
  readonly handedInWhen: string | null;
  readonly lastActionWhen: string | null;
}

export interface StudentItemView {
  readonly id: number;
  readonly title: string;
  readonly sheetTitle: string;
  readonly wayWords: string;
  readonly triesWords: string;
  readonly attempts: readonly AttemptRowView[];
}

/** views/review/student.eta */
export interface StudentPage {
  readonly title: string;
  readonly section: { readonly id: number; readonly name: string; readonly term: string };
  readonly student: { readonly id: number; readonly name: string; readonly number: string };
  readonly items: readonly StudentItemView[];
}

/** views/review/attempt.eta */
export interface ReviewPage {
  readonly title: string;
  readonly wide: true;
  readonly scripts: readonly string[];
  readonly section: { readonly id: number; readonly name: string };
  readonly graded: GradedAttempt;
  readonly values: Values;
  readonly problems: Problems;
}

/** The form filled with the points that count now. */
export function currentValues(graded: GradedAttempt): Values {
  const values: Values = { reason: '' };
  for (const criterion of CRITERIA) {
    values[criterion] = String(graded.points.rows.find((row) => row.criterion === criterion)?.points ?? 0);
  }
  return values;
}
