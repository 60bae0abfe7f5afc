import { z } from 'zod';
import type { OwnText } from './own-queries.ts';

const text = (most: number) =>
  z
    .string()
    .default('')
    .transform((value) => value.replace(/\r\n?/g, '\n'))
    .refine((value) => value.length <= most, `That is too long: ${most} characters are the most.`);

/** What an instructor sends of a lesson. `do` is the button: look at it first, or keep it. */
export const ownForm = z.object({
  title: text(120).refine((value) => value.trim() !== '', 'Give the lesson a title.'),
  minutes: z
    .string()
    .default('')
    .refine((value) => /^\d{1,3}$/.test(value.trim()), 'How many minutes, in whole numbers, like 20.')
    .transform(Number)
    .refine((value) => value >= 1 && value <= 240, 'From 1 to 240 minutes.'),
  aims: text(2000).refine(
    (value) => value.trim() !== '',
    'Write at least one aim: what can a reader do afterwards?',
  ),
  body: text(200_000).refine((value) => value.trim() !== '', 'Write the lesson.'),
  sources: text(4000).refine(
    (value) => value.trim() !== '',
    'Say where it comes from: a manual, a standard, or “common practice”.',
  ),
  cautions: z
    .string()
    .optional()
    .transform((value) => value === 'on'),
  do: z.enum(['look', 'keep']).catch('look'),
});

/** The lesson in a form that was read. */
export function ownTextOf(form: z.output<typeof ownForm>): OwnText {
  const { do: _, ...own } = form;
  return own;
}
