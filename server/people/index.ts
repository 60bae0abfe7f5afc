import type { FastifyInstance } from 'fastify';
import { peopleRoutes } from './routes.ts';

/** People of the program over the years: finding one, and everything that is known of them. */
export async function people(app: FastifyInstance): Promise<void> {
  peopleRoutes(app);
}
