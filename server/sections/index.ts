import type { FastifyInstance } from 'fastify';
import { askingRoutes } from './asking-routes.ts';
import { rosterRoutes } from './roster-routes.ts';
import { sectionsRoutes } from './routes.ts';

export { listAsking } from './asking.ts';
export {
  addInstructor,
  addSection,
  addSubstitute,
  changeSection,
  listInstructors,
  removeInstructor,
  setArchived,
} from './manage.ts';
export {
  getTaughtSection,
  getTaughtStudent,
  listRoster,
  listTaughtSections,
  type TaughtSection,
} from './queries.ts';

/** Sections, their rosters, and the first passwords of their students. */
export async function sections(app: FastifyInstance): Promise<void> {
  sectionsRoutes(app);
  rosterRoutes(app);
  askingRoutes(app);
}
