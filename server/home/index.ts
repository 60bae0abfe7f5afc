import type { FastifyInstance } from 'fastify';
import { homeRoutes } from './routes.ts';

/** The first page, which sends each role to its place. */
export async function home(app: FastifyInstance): Promise<void> {
  homeRoutes(app);
}
