import type { FastifyInstance } from 'fastify';
import { drillsRoutes } from './routes.ts';

export { countedIn, signedWords } from './feedback.ts';
export { type KeptAnswer, listAnswers } from './queries.ts';

/** The room where students drill dial reading, a round of ten dials at a time. */
export async function drills(app: FastifyInstance): Promise<void> {
  drillsRoutes(app);
}
