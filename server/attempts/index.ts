import type { FastifyInstance } from 'fastify';
import { attemptsRoutes } from './routes.ts';

/** The room where students work on practice engines and hand in their sheets. */
export async function attempts(app: FastifyInstance): Promise<void> {
  attemptsRoutes(app);
}
