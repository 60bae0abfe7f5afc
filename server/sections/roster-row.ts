import { z } from 'zod';
import type { LineProblem } from './roster-csv.ts';

export const FIELDS = ['given_name', 'family_name', 'student_number', 'email'] as const;
export type Field = (typeof FIELDS)[number];

/** How a field is called on screen. */
export const FIELD_WORDS: Readonly<Record<Field, string>> = {
  given_name: 'given name',
  family_name: 'family name',
  student_number: 'student number',
  email: 'email',
};

/** One student as read from a file. */
export interface RosterRow {
  readonly line: number;
  readonly givenName: string;
  readonly familyName: string;
  /** Kept as text, leading zeros and all. */
  readonly studentNumber: string;
  readonly email: string | null;
  /** What the system it comes from calls them by, where it says so. */
  readonly sourcedId?: string;
}

/** Names are text, however odd: only what no name can hold is refused. */
const name = (missing: string) =>
  z
    .string()
    .transform((text) => text.trim().normalize('NFC'))
    .pipe(
      z
        .string()
        .min(1, missing)
        .max(200, 'This is longer than 200 characters.')
        .refine((text) => !hasControl(text), 'This holds a character that cannot be printed, or a line end.'),
    );

const student = z.object({
  given_name: name('There is no given name.'),
  family_name: name('There is no family name.'),
  student_number: z
    .string()
    .transform((text) => text.trim())
    .pipe(
      z
        .string()
        .min(1, 'There is no student number.')
        .max(40, 'This is longer than 40 characters.')
        .regex(/^[\p{L}\p{N}._/-]*$/u, 'Use letters, digits, dots, dashes and slashes only, without spaces.'),
    ),
  email: z
    .string()
    .transform((text) => text.trim() || null)
    .pipe(
      z
        .string()
        .max(254, 'This is longer than 254 characters.')
        .regex(
          /^[^\s@]+@[^\s@]+\.[^\s@]+$/,
          'This does not look like an email address. Mend it, or leave it blank.',
        )
        .nullable(),
    ),
});

/** Checks one line; with any problem there is no row. */
export function checkStudent(
  line: number,
  cells: Readonly<Record<Field, string>>,
): { readonly row?: RosterRow; readonly problems: readonly LineProblem[] } {
  const result = student.safeParse(cells);
  if (!result.success) {
    const first = new Map<Field, string>();
    for (const issue of result.error.issues) {
      const field = issue.path[0] as Field;
      if (!first.has(field)) first.set(field, issue.message);
    }
    return { problems: [...first].map(([field, message]) => ({ line, field: FIELD_WORDS[field], message })) };
  }
  const { given_name, family_name, student_number, email } = result.data;
  return {
    row: { line, givenName: given_name, familyName: family_name, studentNumber: student_number, email },
    problems: [],
  };
}

function hasControl(text: string): boolean {
  return /\p{Cc}/u.test(text);
}
