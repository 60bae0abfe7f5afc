import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse as parseYaml } from 'yaml';
import { z } from 'zod';
import { LessonProblem } from './problem.ts';

const sentence = z.string().trim().min(1, 'must not be empty');

const glossaryFile = z.array(
  z.strictObject({
    term: sentence,
    spanish: sentence,
    means: sentence,
    /** Other forms that are linked to it. */
    also: z.array(sentence),
    /** False for a word that has other meanings too: then no text is linked to it. */
    linked: z.boolean().default(true),
  }),
);

/** A word of the course. */
export interface Term {
  /** Its place on the glossary's page. */
  readonly id: string;
  readonly term: string;
  readonly spanish: string;
  readonly means: string;
  readonly linked: boolean;
}

/** The words of the course, and where each is found in a text. */
export interface Glossary {
  /** By the English word, A to Z. */
  readonly terms: readonly Term[];
  /** Finds any form of any term, longest first; null where there are no terms. Group 1 is the form. */
  readonly pattern: RegExp | null;
  /** The term a form belongs to, by the form in small letters. */
  readonly byForm: ReadonlyMap<string, Term>;
}

export const NO_TERMS: Glossary = { terms: [], pattern: null, byForm: new Map() };

/** Reads `glossary.yaml` of a folder; without the file there are no terms. @throws LessonProblem naming what is wrong. */
export function loadGlossary(folder: string): Glossary {
  const path = join(folder, 'glossary.yaml');
  return existsSync(path) ? readGlossary(readFileSync(path, 'utf8')) : NO_TERMS;
}

/** @throws LessonProblem for YAML that cannot be read, a term without its parts, or a form that two terms share. */
export function readGlossary(text: string): Glossary {
  const file = 'lessons/glossary.yaml';
  let data: unknown;
  try {
    data = parseYaml(text);
  } catch (error) {
    throw new LessonProblem(
      file,
      'the YAML',
      `cannot be read: ${(error as Error).message.split('\n', 1)[0]}`,
    );
  }
  const result = glossaryFile.safeParse(data);
  if (!result.success) {
    const [issue] = result.error.issues;
    throw new LessonProblem(
      file,
      issue?.path.join('.') || 'the list',
      `is not right: ${issue?.message ?? ''}`,
    );
  }
  const byForm = new Map<string, Term>();
  const terms = result.data.map(({ term, spanish, means, also, linked }): Term => {
    const made = { id: idOf(term), term, spanish, means, linked };
    for (const form of [term, ...also]) {
      const key = keyOf(form);
      if (byForm.has(key)) throw new LessonProblem(file, term, `and another term both hold "${form}"`);
      byForm.set(key, made);
    }
    return made;
  });
  const order = new Intl.Collator('en');
  return {
    terms: terms.sort((one, other) => order.compare(one.term, other.term)),
    pattern: patternOf([...byForm].filter(([, { linked }]) => linked).map(([form]) => form)),
    byForm,
  };
}

export function keyOf(form: string): string {
  return form.toLowerCase().replaceAll('’', "'");
}

function idOf(term: string): string {
  return term.toLowerCase().replace(/[^a-z0-9]+/g, '-');
}

/** The longest form wins; a form is a word of its own, not a part of one. */
function patternOf(forms: readonly string[]): RegExp | null {
  if (forms.length === 0) return null;
  const sorted = [...forms].sort((one, other) => other.length - one.length);
  const any = sorted.map((form) => form.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replaceAll("'", "['’]"));
  return new RegExp(`(?<![\\p{L}\\p{N}-])(${any.join('|')})(?![\\p{L}\\p{N}]|-\\p{L})`, 'giu');
}
