import type { FastifyInstance } from 'fastify';
import { recordRoutes } from './routes.ts';

export { GROSS, type ReadingSummary, readingErrorsOf, readingSummary } from './readings.ts';

/** A student's own record: competencies, how the readings have been, and what is still to hand in. */
export async function record(app: FastifyInstance): Promise<void> {
  recordRoutes(app);
}
