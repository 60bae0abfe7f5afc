import { z } from 'zod';
import type { Problems, Values } from '../web/forms.ts';
import { PASSWORD_LONGEST, PASSWORD_SHORTEST } from './passwords.ts';

export const signInForm = z.object({
  signInName: z
    .string('Type your sign-in name.')
    .trim()
    .min(1, 'Type your sign-in name.')
    .max(200, 'That name is too long.'),
  password: z
    .string('Type your password.')
    .min(1, 'Type your password.')
    .max(1000, 'That password is too long.'),
  next: z.string().optional(),
});

/** The new password's own rules; that it differs from the sign-in name and the old one is checked where those are known. */
export const passwordForm = z
  .object({
    current: z.string('Type the password you have now.').min(1, 'Type the password you have now.').max(1000),
    password: z
      .string('Type a new password.')
      .min(PASSWORD_SHORTEST, `Use at least ${PASSWORD_SHORTEST} characters.`)
      .max(PASSWORD_LONGEST, `Use at most ${PASSWORD_LONGEST} characters.`),
    again: z.string('Type the new password again.'),
  })
  .refine((form) => form.password === form.again, {
    path: ['again'],
    message: 'This is not the same as the new password. Type both again.',
  });

/** What views/accounts/sign-in.eta receives. */
export interface SignInView {
  readonly title: string;
  readonly values: Values;
  readonly problems: Problems;
  /** Where to go afterwards, a path on this server. */
  readonly next: string;
}

/** What views/accounts/password.eta receives. */
export interface PasswordView {
  readonly title: string;
  readonly problems: Problems;
  /** A first password from an instructor has to be replaced before anything else. */
  readonly forced: boolean;
  readonly shortest: number;
}
