import { z } from 'zod';
import { NotFound } from './errors.ts';

/** What was typed, by field, to be shown again. */
export type Values = Record<string, string>;
/** What is wrong, by field; `form` holds what belongs to no field. */
export type Problems = Record<string, string>;

export type FormResult<T> =
  | { readonly ok: true; readonly value: T; readonly values: Values; readonly problems: Problems }
  | { readonly ok: false; readonly values: Values; readonly problems: Problems };

/**
 * Reads a form through its schema. A rejected form is no error but a value: hand `values` and `problems` back to the
 * same view. Fields named in `secret` are never handed back.
 */
export function readForm<Schema extends z.ZodType>(
  schema: Schema,
  body: unknown,
  secret: readonly string[] = [],
): FormResult<z.output<Schema>> {
  const values = typedValues(body, secret);
  const result = schema.safeParse(body ?? {});
  if (result.success) return { ok: true, value: result.data, values, problems: {} };
  const problems: Problems = {};
  for (const issue of result.error.issues) {
    const field = issue.path.length > 0 ? String(issue.path[0]) : 'form';
    problems[field] ??= issue.message;
  }
  return { ok: false, values, problems };
}

function typedValues(body: unknown, secret: readonly string[]): Values {
  const values: Values = {};
  for (const [name, value] of Object.entries((body ?? {}) as Record<string, unknown>)) {
    if (typeof value === 'string' && name !== '_csrf' && !secret.includes(name)) values[name] = value;
  }
  return values;
}

/** A row's number from the address. Throws NotFound for anything that cannot be one. */
export function readId(text: unknown): number {
  if (typeof text !== 'string' || !/^[1-9]\d{0,14}$/.test(text)) throw new NotFound();
  return Number(text);
}

/** A box that must hold something, and at most `most` letters. */
export function requiredText(missing: string, most = 200) {
  return z.string(missing).trim().min(1, missing).max(most, `Write at most ${most} letters.`);
}
