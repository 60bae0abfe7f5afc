import { z } from 'zod';
import { CRITERIA, type Criterion } from '../engine/index.ts';
import type { Problems, Values } from '../web/forms.ts';
import { CRITERION_WORDS } from '../web/words/index.ts';
import type { DisagreementView, ListedDisagreement } from './disagreements.ts';
import type { GradedAttempt } from './graded-attempt.ts';
import { tenths } from './points.ts';
import type { QueuePlace, QueueRow } from './queue.ts';
import type { FollowedAttempt } from './summaries.ts';

/** Points as a person writes them: a decimal point or comma, tenths at the finest, within the criterion. */
function points(criterion: Criterion, most: number) {
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

/** Words that have to be there and are kept as they are, up to 1000 letters. */
function keptWords(missing: string, what: string) {
  return z.string(missing).trim().min(1, missing).max(1000, `${what} too long: 1000 letters are the most.`);
}

/** A change of points: all four criteria, each within what its grade is out of, and why. */
export function changeForm(outOf: Readonly<Record<Criterion, number>>) {
  return z.object({
    setUp: points('setUp', outOf.setUp),
    procedure: points('procedure', outOf.procedure),
    reading: points('reading', outOf.reading),
    verdict: points('verdict', outOf.verdict),
    reason: keptWords('Write the reason. The student reads it.', 'The reason is'),
    seen: z.coerce.number().int().nonnegative(),
    /** The disagreement that the reason answers too; 0 for none. */
    answers: z.coerce.number().int().nonnegative().default(0),
  });
}

/** What a student does not agree with, and why. */
export const disagreementForm = z.object({
  about: z.string(),
  words: keptWords('Write what you see differently. Your instructor reads it.', 'This is'),
});

/** What an instructor says of the whole attempt, and whether it comes with another try. */
export const commentForm = z.object({
  comment: keptWords('Write what the student is to read.', 'This is'),
  gives: z.enum(['nothing', 'further-try']),
});

export const answerForm = z.object({
  disagreement: z.coerce.number().int().positive(),
  words: keptWords('Write the answer. The student reads it.', 'The answer is'),
});

/** A row of the page about one student. */
export interface AttemptRowView extends FollowedAttempt {
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

export interface QueueRowView extends QueueRow {
  readonly handedInWhen: string;
  /** Disagreements that wait; of a settled row all. */
  readonly said: readonly ListedDisagreement[];
}

/** views/review/queue.eta */
export interface QueuePage {
  readonly title: string;
  readonly wide: true;
  readonly section: { readonly id: number; readonly name: string };
  readonly waiting: readonly QueueRowView[];
  /** Newest first. */
  readonly settled: readonly QueueRowView[];
  /** Signatures of substitutes that wait for an instructor's. */
  readonly toCountersign: number;
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
  readonly place: QueuePlace;
  /** Disagreements that nobody has answered, for the change of points to answer. */
  readonly open: readonly DisagreementView[];
  /** The answer that could not be taken: to which disagreement, what was typed, what is wrong. */
  readonly answer: TalkForm | null;
}

/** A form beside one remark that could not be taken. */
export interface TalkForm {
  /** Of the remark, or the number of the disagreement. */
  readonly about: string;
  readonly words: string;
  readonly problem: string;
}

/** views/attempts/result.eta, as it comes back with a disagreement that could not be taken. */
export interface ResultPage {
  readonly title: string;
  readonly scripts: readonly string[];
  readonly graded: GradedAttempt;
  readonly disagreement: TalkForm | null;
}

/** The form filled with the points that count now. */
export function currentValues(graded: GradedAttempt): Values {
  const values: Values = { reason: '', answers: '0', comment: '' };
  for (const criterion of CRITERIA) {
    values[criterion] = String(graded.points.rows.find((row) => row.criterion === criterion)?.points ?? 0);
  }
  return values;
}
