import type { FastifyInstance } from 'fastify';
import { fromRoot } from '../root.ts';
import { loadCourse } from './load.ts';
import { ownRoutes } from './own-routes.ts';
import { planRoutes } from './plan-routes.ts';
import { lessonsRoutes } from './routes.ts';
import { CourseSearch } from './search.ts';
import { Shelf } from './shelf.ts';

export { LessonProblem } from './problem.ts';

/** The course of `lessons/`, read and checked once, and what instructors add to it; a broken lesson of ours stops the start. */
export async function lessons(app: FastifyInstance): Promise<void> {
  const course = loadCourse(fromRoot('lessons'));
  const shelf = new Shelf(course);
  lessonsRoutes(app, shelf, new CourseSearch(course));
  planRoutes(app, shelf);
  ownRoutes(app, shelf);
}
