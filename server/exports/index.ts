import type { FastifyInstance } from 'fastify';
import { exportsRoutes } from './routes.ts';

export { type PersonRecord, personRecords, type RecordedStanding } from './record.ts';

/** Records in forms that others accept, and a note of each that left the house. */
export async function exports(app: FastifyInstance): Promise<void> {
  exportsRoutes(app);
}
