import type { FastifyInstance } from 'fastify';
import { queueRoutes } from './queue-routes.ts';
import { reviewRoutes } from './routes.ts';

export { type GradedAttempt, loadGradedAttempt } from './graded-attempt.ts';
export { gradedKindOf } from './graded-kind.ts';
export { listGradedSheets, listPointsHandedIn } from './queries.ts';
export { countWaiting } from './queue-queries.ts';
export { type Regraded, regradeSample } from './regrade.ts';
export {
  type AttemptSummary,
  listGradedById,
  listGradedInSection,
  listGradedOfStudent,
  listGradedRuns,
} from './summaries.ts';
export { type ToldWork, tellWork, type WorkToTell } from './told-work.ts';

/** Where instructors read graded attempts and change their points. */
export async function review(app: FastifyInstance): Promise<void> {
  reviewRoutes(app);
  queueRoutes(app);
}
