import { z } from 'zod';
import type { DialReadingDefinition } from '../engine/index.ts';

const text = z.string().trim().max(200).default('');

/** What is to be printed. */
export const printForm = z.object({
  kind: z.enum(['dials', 'measuring', 'sign-off'], 'Choose what to print.'),
  title: z.string().trim().max(120, 'The heading is too long: 120 letters are the most.').default(''),
  dials: z.enum(['4', '8'], 'Choose how many dials.').default('4'),
  level: z.enum(['1', '2', '3'], 'Choose a level.').default('2'),
  unit: z.enum(['', 'in', 'mm'], 'Choose a unit.').default(''),
  work: text,
  item: text,
  spare: z
    .string()
    .trim()
    .default('0')
    .transform((given) => (given === '' ? '0' : given))
    .refine((given) => /^\d{1,2}$/.test(given) && Number(given) <= 40, 'Write a whole number from 0 to 40.')
    .transform(Number),
});

export type PrintForm = z.output<typeof printForm>;

/** The dials of one sheet, as the form asks for them. */
export function dialsAsked({ dials, level, unit }: PrintForm): DialReadingDefinition {
  return {
    kind: 'dial-reading',
    drills: Number(dials),
    level: Number(level) as 1 | 2 | 3,
    ...(unit === '' ? {} : { unit }),
  };
}
