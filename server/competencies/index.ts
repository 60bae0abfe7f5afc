import type { FastifyInstance } from 'fastify';
import { competenciesRoutes } from './routes.ts';

export {
  type Competency,
  getCompetency,
  listOwnStandings,
  listStandings,
  type OwnStanding,
  type Standing,
} from './queries.ts';
export { ruleWords } from './rule.ts';

/** What is certified, by which rule, and who meets it on what evidence. */
export async function competencies(app: FastifyInstance): Promise<void> {
  competenciesRoutes(app);
}
