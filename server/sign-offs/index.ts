import type { FastifyInstance } from 'fastify';
import { assessorRoutes } from './assessor-routes.ts';
import { benchRoutes } from './bench-routes.ts';
import { studentRoutes } from './student-routes.ts';

export { listShopItems } from './begin.ts';
export {
  listSignedEvidence,
  listSignOffFacts,
  listSignOffsOf,
  type SignedEvidence,
  type SignOffFacts,
} from './evidence.ts';
export {
  getSignOff,
  listOwnSignOffs,
  listReady,
  listSigned,
  listSignOffs,
  type SignOff,
  type SignOffLine,
  type Waiting,
} from './queries.ts';

/** Work on a shop engine: signed off step by step, read, compared with the reference, signed. */
export async function signOffs(app: FastifyInstance): Promise<void> {
  assessorRoutes(app);
  benchRoutes(app);
  studentRoutes(app);
}
