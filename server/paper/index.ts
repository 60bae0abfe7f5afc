import type { FastifyInstance } from 'fastify';
import { paperRoutes } from './routes.ts';

/** Paper: sheets to print, the key to them, and finding one again. */
export async function paper(app: FastifyInstance): Promise<void> {
  paperRoutes(app);
}
