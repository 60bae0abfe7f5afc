import type { FastifyInstance } from 'fastify';
import { weakSpotRoutes } from './routes.ts';

/** What a section gets wrong, so that an instructor knows what to teach again. */
export async function weakSpots(app: FastifyInstance): Promise<void> {
  weakSpotRoutes(app);
}
