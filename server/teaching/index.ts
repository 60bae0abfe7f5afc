import type { FastifyInstance } from 'fastify';
import { assignRoutes } from './assign-routes.ts';
import { scoreRoutes } from './score-routes.ts';
import { sectionPage } from './section-page.ts';
import { sectionRoutes } from './section-routes.ts';
import { writeRoutes } from './write-routes.ts';

export { oneRosterSet } from './oneroster-set.ts';
export { sectionScores } from './scores.ts';

/** Where instructors write lab sheets, assign them, and take the scores out. */
export async function teaching(app: FastifyInstance): Promise<void> {
  sectionPage(app);
  sectionRoutes(app);
  writeRoutes(app);
  assignRoutes(app);
  scoreRoutes(app);
}
