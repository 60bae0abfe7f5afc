import type { FastifyInstance } from 'fastify';
import { programRoutes } from './routes.ts';

export { addressOf, getProgram, type Program } from './queries.ts';
export { listTerms, type ProgramTerm } from './terms-queries.ts';

/** The program itself: its name, where others reach it, its terms. */
export async function program(app: FastifyInstance): Promise<void> {
  programRoutes(app);
}
