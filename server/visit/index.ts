import type { FastifyInstance } from 'fastify';
import { visitRoutes } from './routes.ts';

/** What an accrediting visit asks for. */
export async function visit(app: FastifyInstance): Promise<void> {
  visitRoutes(app);
}
