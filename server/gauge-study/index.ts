import type { FastifyInstance } from 'fastify';
import { gaugeStudyRoutes } from './routes.ts';

/** Gauge studies: planned, measured in drawn order, reported by both methods. */
export async function gaugeStudies(app: FastifyInstance): Promise<void> {
  gaugeStudyRoutes(app);
}
