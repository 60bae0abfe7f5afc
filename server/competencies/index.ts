import type { FastifyInstance } from 'fastify';
import { frameworkRoutes } from './framework-routes.ts';
import { matrixRoutes } from './matrix-routes.ts';
import { competenciesRoutes } from './routes.ts';
import { writeRoutes } from './write-routes.ts';

export { asOfAsked, endOfDay } from './as-of.ts';
export type { Evidence, RunEvidence, SignOffEvidence } from './evidence.ts';
export { type EvidenceRule, ruleWords } from './evidence-rule.ts';
export { casePackage, itemAddress } from './framework.ts';
export type { Meeting } from './meeting.ts';
export { listProgramSections, listProgramStudents } from './program.ts';
export {
  type Competency,
  getCompetency,
  listCompetencies,
  listOwnStandings,
  listPeople,
  listStandings,
  type OwnStanding,
  type Person,
  type PersonStanding,
  standingsAsOf,
} from './queries.ts';
export { reasonsOf, standingView } from './shown.ts';
export { STATE_WORDS, type Standing, type StandingState } from './standing.ts';

/** What is certified, by which rule, and who holds it on what evidence, as of any day. */
export async function competencies(app: FastifyInstance): Promise<void> {
  competenciesRoutes(app);
  writeRoutes(app);
  matrixRoutes(app);
  frameworkRoutes(app);
}
