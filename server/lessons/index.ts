import type { FastifyInstance } from 'fastify';
import { fromRoot } from '../root.ts';
import { loadLessons } from './load.ts';
import { lessonsRoutes } from './routes.ts';

export { LessonProblem } from './problem.ts';

/** The lessons of `lessons/`, read and checked once; a broken one stops the start. */
export async function lessons(app: FastifyInstance): Promise<void> {
  lessonsRoutes(app, loadLessons(fromRoot('lessons')));
}
