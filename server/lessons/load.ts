import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse as parseYaml } from 'yaml';
import type { z } from 'zod';
import { drawFigure } from './figures.ts';
import { type Glossary, loadGlossary, NO_TERMS } from './glossary.ts';
import { type Images, renderMarkdown } from './markdown.ts';
import { LessonProblem } from './problem.ts';
import { checkQuestion } from './questions.ts';
import { competenciesFile, type FrontMatter, frontMatter, type Question, questionsFile } from './schema.ts';
import { fillTemplate, TemplateProblem } from './template.ts';
import { workedNumber } from './worked.ts';

/** A lesson ready to be shown: numbers computed, figures drawn, Markdown rendered, once at the start. */
export interface Lesson {
  readonly slug: string;
  /** The folder of the lesson it is an instructor's version of; null for any other. */
  readonly basedOn: string | null;
  readonly head: FrontMatter;
  readonly html: string;
  readonly contents: readonly { readonly id: string; readonly text: string }[];
  /** Does it hold a live figure, which needs its script? */
  readonly live: boolean;
  readonly questions: readonly Question[];
  /** Where its text leads to, beside its own headings. */
  readonly links: readonly string[];
  /** The Markdown it was made of, as it stands in its file. */
  readonly body: string;
}

/** All that is taught: lessons in order, and their words. */
export interface Course {
  readonly lessons: readonly Lesson[];
  readonly glossary: Glossary;
  /** What the lessons belong to: titles by code. */
  readonly competencies: ReadonlyMap<string, string>;
}

/** Stands where a figure goes until the Markdown is rendered; from Unicode's private use area, so no text holds it by chance. */
const PLACE = '\uE000';

/**
 * A folder of lessons and its glossary. @throws LessonProblem naming file and field of the first that cannot be shown, or that leads to a
 * lesson that is not there or that comes later than it must.
 */
export function loadCourse(folder: string): Course {
  const glossary = loadGlossary(folder);
  const lessons = loadLessons(folder, glossary);
  const competencies = loadCompetencies(folder);
  const bySlug = new Map(lessons.map((lesson) => [lesson.slug, lesson]));
  for (const { slug, head, links } of lessons) {
    const file = `lessons/${slug}/lesson.md`;
    const stranger = head.competencies.find((code) => !competencies.has(code));
    if (stranger !== undefined)
      throw new LessonProblem(
        file,
        'competencies',
        `names ${stranger}, which lessons/competencies.yaml does not hold`,
      );
    for (const need of head.needs) {
      const order = bySlug.get(need)?.head.order;
      if (order === undefined)
        throw new LessonProblem(file, 'needs', `names ${need}, and there is no such lesson`);
      if (order >= head.order)
        throw new LessonProblem(file, 'needs', `names ${need}, which comes later in the course`);
    }
    for (const link of links) {
      const to = /^\/lessons\/([a-z0-9-]+)$/.exec(link)?.[1];
      if (to === undefined || !bySlug.has(to))
        throw new LessonProblem(file, 'the text', `links to ${link}, and there is no such lesson`);
    }
  }
  return { lessons, glossary, competencies };
}

function loadCompetencies(folder: string): ReadonlyMap<string, string> {
  const file = 'lessons/competencies.yaml';
  const given = checked(
    competenciesFile,
    yamlOf(readText(join(folder, 'competencies.yaml'), file), file),
    file,
  );
  return new Map(given.map(({ code, title }) => [code, title]));
}

/** Every lesson of a folder, in the order of the course. @throws LessonProblem naming file and field of the first that cannot be shown. */
export function loadLessons(folder: string, glossary: Glossary = NO_TERMS): readonly Lesson[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort()
    .map((slug) => loadLesson(folder, slug, glossary))
    .sort((one, other) => one.head.order - other.head.order);
}

function loadLesson(folder: string, slug: string, glossary: Glossary): Lesson {
  const file = `lessons/${slug}/lesson.md`;
  if (!/^[a-z0-9-]+$/.test(slug))
    throw new LessonProblem(file, 'the folder', 'must be named in small letters and hyphens');
  const text = readText(join(folder, slug, 'lesson.md'), file);
  const [head, body] = splitFrontMatter(text, file);
  const asked = `lessons/${slug}/questions.yaml`;
  return {
    slug,
    basedOn: null,
    head: checked(frontMatter, yamlOf(head, file), file),
    ...readBody(body, file, glossary),
    body,
    questions: readQuestions(readText(join(folder, slug, 'questions.yaml'), asked), asked),
  };
}

function readText(path: string, file: string): string {
  if (!existsSync(path)) throw new LessonProblem(file, 'the file', 'is missing');
  return readFileSync(path, 'utf8')
    .replace(/\r\n?/g, '\n')
    .replace(/^\uFEFF/, '');
}

function splitFrontMatter(text: string, file: string): [string, string] {
  const found = /^---\n([\s\S]*?)\n---\n([\s\S]*)$/.exec(text);
  if (!found) throw new LessonProblem(file, 'the front matter', 'must stand first, between two lines of ---');
  return [found[1] ?? '', found[2] ?? ''];
}

function yamlOf(text: string, file: string): unknown {
  try {
    return parseYaml(text);
  } catch (error) {
    throw new LessonProblem(
      file,
      'the YAML',
      `cannot be read: ${(error as Error).message.split('\n', 1)[0]}`,
    );
  }
}

function checked<Schema extends z.ZodType>(schema: Schema, data: unknown, file: string): z.output<Schema> {
  const result = schema.safeParse(data);
  if (result.success) return result.data;
  const [issue] = result.error.issues;
  const field = issue && issue.path.length > 0 ? issue.path.join('.') : 'the front matter';
  throw new LessonProblem(file, field, `is not right: ${issue?.message ?? 'unknown'}`);
}

/** A lesson's Markdown, its numbers worked out and its figures drawn. @throws LessonProblem naming what cannot be shown. */
export function readBody(
  body: string,
  file: string,
  glossary: Glossary = NO_TERMS,
  images: Images = 'without-images',
): Pick<Lesson, 'html' | 'contents' | 'live' | 'links'> {
  if (body.includes(PLACE))
    throw new LessonProblem(file, 'the text', 'holds a character from the private use area');
  const figures: string[] = [];
  let live = false;
  const filled = named(file, 'the text', () =>
    fillTemplate(body, (call) => {
      if (call.name !== 'figure') return workedNumber(call);
      const figure = drawFigure(call, figures.length + 1);
      figures.push(figure.html);
      live ||= figure.live;
      return `${PLACE}${figures.length}${PLACE}`;
    }),
  );
  const rendered = renderMarkdown(filled, glossary, images);
  for (const link of rendered.links) {
    if (link.startsWith('#') && !rendered.ids.has(link.slice(1)))
      throw new LessonProblem(file, 'the text', `links to ${link}, and no heading has that name`);
  }
  const html = rendered.html.replace(
    new RegExp(`<p>${PLACE}(\\d+)${PLACE}</p>`, 'g'),
    (_, number: string) => figures[Number(number) - 1] ?? '',
  );
  if (html.includes(PLACE))
    throw new LessonProblem(file, 'the text', 'holds a figure that does not stand on a line of its own');
  return {
    html,
    contents: rendered.contents,
    live,
    links: rendered.links.filter((link) => !link.startsWith('#')),
  };
}

function readQuestions(text: string, file: string): readonly Question[] {
  const questions = checked(questionsFile, yamlOf(text, file), file);
  const ids = questions.map(({ id }) => id);
  const twice = ids.find((id, index) => ids.indexOf(id) !== index);
  if (twice !== undefined) throw new LessonProblem(file, twice, 'stands there twice');
  for (const question of questions) named(file, `question ${question.id}`, () => checkQuestion(question));
  return questions;
}

/** Runs `work`, and gives what goes wrong in it the name of its file. */
function named<T>(file: string, field: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof TemplateProblem || error instanceof RangeError)
      throw new LessonProblem(file, field, error.message);
    throw error;
  }
}
