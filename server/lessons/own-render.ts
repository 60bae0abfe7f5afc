import type { Course, Lesson } from './load.ts';
import { readBody } from './load.ts';
import type { OwnLesson, OwnText } from './own-queries.ts';
import { LessonProblem } from './problem.ts';

/** What a lesson of an instructor's own is called in addresses and records. */
export function ownKey(id: number): string {
  return `own-${id}`;
}

/** What is wrong with a text, in a sentence; null when it can be shown. */
export function problemOf(text: Pick<OwnText, 'body'>, course: Course): string | null {
  try {
    readBody(text.body, 'own', course.glossary, 'with-images');
    return null;
  } catch (error) {
    // The whole list of what is known would bury what is wrong.
    if (error instanceof LessonProblem)
      return `${error.message.replace(/^own: (the text )?/, 'The text ').replace(/; known are .*$/, '')}.`;
    throw error;
  }
}

/**
 * An instructor's lesson as the course's own are shown. Of the lesson it is a version of it keeps the questions, the competencies and the
 * exercise. A text that an upgrade has made unreadable is shown as it was typed, rather than not at all.
 */
export function renderOwn(own: OwnLesson, course: Course, base: Lesson | undefined): Lesson {
  const lines = (text: string) =>
    text
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '');
  return {
    slug: ownKey(own.id),
    basedOn: own.basedOn,
    head: {
      title: own.title,
      order: base?.head.order ?? 9999,
      aims: lines(own.aims),
      minutes: own.minutes,
      needs: [],
      before: [],
      practise: base?.head.practise ?? 'drills',
      competencies: base?.head.competencies ?? [],
      cautions: own.cautions,
      sources: lines(own.sources).map((line) => ({ what: line, from: 'as its author gives it' })),
    },
    questions: base?.questions ?? [],
    body: own.body,
    ...shownBody(own, course),
  };
}

function shownBody({ body }: OwnLesson, course: Course) {
  try {
    return readBody(body, 'own', course.glossary, 'with-images');
  } catch (error) {
    if (!(error instanceof LessonProblem)) throw error;
    return readBody(
      body.replaceAll('{{', '{ {').replaceAll('}}', '} }'),
      'own',
      course.glossary,
      'with-images',
    );
  }
}
