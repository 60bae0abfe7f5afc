import type { FastifyInstance } from 'fastify';
import { auditRoutes } from './routes.ts';

export { noteLook } from './queries.ts';

/** Who did what to the record, when and why; and who looked at whose. */
export async function audit(app: FastifyInstance): Promise<void> {
  auditRoutes(app);
}
