import type { FastifyInstance } from 'fastify';
import { fromRoot } from '../root.ts';
import { type Course, loadCourse } from './load.ts';
import { ownRoutes } from './own-routes.ts';
import { planRoutes } from './plan-routes.ts';
import { lessonsRoutes } from './routes.ts';
import { CourseSearch } from './search.ts';
import { Shelf } from './shelf.ts';

export { drawFrom } from './chance.ts';
export { LessonProblem } from './problem.ts';
export { copyPlan, listSectionAnswers, listSectionWork } from './reading.ts';

/** The course of `lessons/`, read and checked once, and what instructors add to it; a broken lesson of ours stops the start. */
export async function lessons(app: FastifyInstance): Promise<void> {
  const course = theCourse();
  const shelf = new Shelf(course);
  lessonsRoutes(app, shelf, new CourseSearch(course));
  planRoutes(app, shelf);
  ownRoutes(app, shelf);
}

let loaded: Course | undefined;

/** The course as it ships, read once a process. @throws LessonProblem */
function theCourse(): Course {
  loaded ??= loadCourse(fromRoot('lessons'));
  return loaded;
}

/** The lessons that ship, in the order of the course, with how many questions each has. */
export function listShippedLessons(): readonly {
  readonly slug: string;
  readonly title: string;
  readonly questions: number;
  /** What each question asks, its numbers left out. */
  readonly asks: readonly { readonly id: string; readonly ask: string }[];
}[] {
  return theCourse().lessons.map(({ slug, head, questions }) => ({
    slug,
    title: head.title,
    questions: questions.length,
    asks: questions.map(({ id, ask }) => ({ id, ask: ask.replaceAll(/\{\{[^}]*\}\}/g, '…') })),
  }));
}
