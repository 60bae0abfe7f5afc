import { z } from 'zod';
import { KIND_NAMES } from '../engine/index.ts';
import type { PractiseNext } from './practise.ts';
import type { Slide } from './slides.ts';

const sentence = z.string().trim().min(1, 'must not be empty');
const code = z.string().regex(/^[A-Z0-9-]+$/, 'must be a code in capitals');

/** `competencies.yaml` beside the lessons. */
export const competenciesFile = z.array(z.strictObject({ code, title: sentence }));

/** What stands above a lesson's Markdown. */
export const frontMatter = z.strictObject({
  title: sentence,
  /** Its place in the course, counted in tens so that another fits between. */
  order: z.int().min(1).max(9999),
  /** What a reader can do afterwards. */
  aims: z.array(sentence).min(1, 'needs at least one aim'),
  /** How long it takes, in minutes. */
  minutes: z.int().min(1).max(240),
  /** Lessons that come first, by their folders. */
  needs: z.array(z.string()).default([]),
  /** What else to know or do first. */
  before: z.array(sentence),
  /** The exercise to do next: a kind of work, or rounds of dials. */
  practise: z.enum([...KIND_NAMES, 'drills']),
  /** Codes of the competencies it belongs to. */
  competencies: z.array(code),
  /** Does it show the usual cautions? Every lesson about real engines must. */
  cautions: z.boolean(),
  /** Where each fact comes from, or that it is common practice without a source. */
  sources: z.array(z.strictObject({ what: sentence, from: sentence })).min(1, 'needs at least one source'),
});
export type FrontMatter = z.output<typeof frontMatter>;

const id = z.string().regex(/^[a-z0-9-]+$/, 'must be small letters, digits and hyphens');

const choiceQuestion = z.strictObject({
  id,
  /** Which numbers are drawn for it; left out, none are. */
  draw: id.optional(),
  ask: sentence,
  /** Key of the right choice; may be a drawn value. */
  right: sentence,
  choices: z.array(z.strictObject({ key: id, text: sentence, feedback: sentence })).min(2),
});

const numberQuestion = z.strictObject({
  id,
  /** A draw that gives a reading, whose lift is the answer, or another number. */
  draw: id,
  ask: sentence,
  /** What is asked for, above the box. */
  label: sentence,
  hint: sentence,
});

/** `questions.yaml` beside a lesson. */
export const questionsFile = z.array(z.union([choiceQuestion, numberQuestion])).min(1);
export type ChoiceQuestion = z.output<typeof choiceQuestion>;
export type NumberQuestion = z.output<typeof numberQuestion>;
export type Question = ChoiceQuestion | NumberQuestion;

/** The form at the end of a question. `tries` says which numbers were on the page. */
export const answerForm = z.object({
  question: z.string().max(80),
  tries: z.coerce.number().int().min(0).max(100_000),
  answer: z.string().max(200).default(''),
});

/** A question as a page shows it. It holds the right answer only once this reader has answered. */
export interface QuestionView {
  readonly id: string;
  readonly number: number;
  /** The last answer given, with the numbers it was given to; null before the first. */
  readonly answered: AnsweredView | null;
  /** The form; null when the last answer was right and nobody asked to go again. */
  readonly form: QuestionFormView | null;
}

export interface AnsweredView {
  readonly askHtml: string;
  readonly answer: string;
  readonly correct: boolean;
  readonly feedbackHtml: string;
}

export interface QuestionFormView {
  readonly askHtml: string;
  readonly tries: number;
  readonly choices: readonly { readonly key: string; readonly html: string }[] | null;
  readonly box: { readonly label: string; readonly hint: string; readonly unit: string } | null;
  readonly typed: string;
  readonly problem: string | undefined;
}

/** A lesson as `lessons/lesson` shows it. */
export interface LessonView {
  readonly title: string;
  readonly crumbs: readonly { readonly href?: string; readonly text: string }[];
  readonly scripts: readonly string[];
  readonly sheetCode: string;
  readonly slug: string;
  readonly lesson: FrontMatter;
  readonly needs: readonly { readonly slug: string; readonly title: string }[];
  readonly competencies: readonly { readonly code: string; readonly title: string }[];
  readonly html: string;
  readonly contents: readonly { readonly id: string; readonly text: string }[];
  readonly questions: readonly QuestionView[];
  readonly right: number;
  readonly practise: PractiseNext;
  /** When the reader said that they had read it; null before. */
  readonly readAt: string | null;
  readonly mayMakeOwn: boolean;
}

/** A lesson in slides. */
export interface SlidesView {
  readonly title: string;
  readonly slug: string;
  readonly scripts: readonly string[];
  readonly lesson: FrontMatter;
  readonly slides: readonly Slide[];
}

/** A line of the list of lessons. */
export interface LessonLine {
  readonly slug: string;
  readonly title: string;
  readonly minutes: number;
  readonly aims: readonly string[];
  readonly right: number;
  readonly questions: number;
  readonly open: boolean;
  /** The day it opens, in words; null where it is open or no day is named. */
  readonly opens: string | null;
  readonly state: 'not begun' | 'begun' | 'read';
}
