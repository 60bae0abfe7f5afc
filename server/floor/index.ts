import type { FastifyInstance } from 'fastify';
import { floorRoutes } from './routes.ts';

export { openCall } from './queries.ts';

/** The floor, live: who is on what, and who needs somebody. */
export async function floor(app: FastifyInstance): Promise<void> {
  floorRoutes(app);
}
