import type { FastifyInstance } from 'fastify';
import { sectionsRoutes } from './routes.ts';

export { getTaughtSection, getTaughtStudent, listRoster, listTaughtSections } from './queries.ts';

/** Sections, their rosters, and the first passwords of their students. */
export async function sections(app: FastifyInstance): Promise<void> {
  sectionsRoutes(app);
}
