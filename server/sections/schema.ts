import { z } from 'zod';
import type { Problems, Values } from '../web/forms.ts';
import type { GivenPassword } from './first-passwords.ts';
import type { TaughtSection } from './queries.ts';
import type { LineProblem } from './roster-csv.ts';

/** A roster comes as a file or is pasted; a browser sends an empty file when none is chosen. */
export const rosterForm = z.object({
  file: z
    .unknown()
    .optional()
    .transform((file) => (file instanceof Uint8Array && file.length > 0 ? file : undefined)),
  pasted: z
    .string()
    .optional()
    .transform((text) => (text && text.trim() !== '' ? text : undefined)),
});

const cell = z.string().max(400, 'This is too long.').default('');
/** Somebody who asks to be put on a roster; the fields are those of a roster's lines. */
export const joinForm = z.object({
  code: z.string().trim().min(1, 'Write the code.').max(40, 'This is too long to be a code.'),
  ...{ student_number: cell, given_name: cell, family_name: cell, email: cell },
});

export const resetForm = z.object({ reset: z.literal('yes').optional() });

/** What views/sections/list.eta receives. */
export interface SectionsView {
  readonly title: string;
  readonly sections: readonly TaughtSection[];
}

/** What views/sections/roster.eta receives. */
export interface RosterView {
  readonly title: string;
  readonly section: TaughtSection;
  readonly values: Values;
  readonly problems: Problems;
  /** Lines of the file that could not be taken; with any of them nothing was. */
  readonly lines: readonly LineProblem[];
  readonly notes: readonly string[];
}

/** What views/sections/passwords.eta receives. */
export interface PasswordsView {
  readonly title: string;
  readonly section: TaughtSection;
  readonly given: readonly GivenPassword[];
}
