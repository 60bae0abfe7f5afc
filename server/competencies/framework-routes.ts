import type { FastifyInstance } from 'fastify';
import { addressOf, getProgram } from '../program/index.ts';
import { NotFound } from '../web/errors.ts';
import { caseItem, casePackage } from './framework.ts';
import { competenciesInForce } from './queries.ts';

const PUBLIC = { config: { access: 'public' } } as const;
type UuidParams = { Params: { uuid: string } };

/** What the program certifies, for other programs: CASE as JSON. A competency says nothing of any person. */
export function frameworkRoutes(app: FastifyInstance): void {
  const { store } = app;
  const inForce = () => competenciesInForce(store.db, app.clock().toISOString());

  app.get<UuidParams>('/ims/case/v1p1/CFPackages/:uuid', PUBLIC, async (request, reply) => {
    const program = await getProgram(store.db);
    if (request.params.uuid !== program.uuid) throw new NotFound();
    return reply.send(casePackage(await inForce(), program, addressOf(program, request)));
  });

  app.get<UuidParams>('/ims/case/v1p1/CFDocuments/:uuid', PUBLIC, async (request, reply) => {
    const program = await getProgram(store.db);
    if (request.params.uuid !== program.uuid) throw new NotFound();
    return reply.send(casePackage(await inForce(), program, addressOf(program, request)).CFDocument);
  });

  app.get<UuidParams>('/ims/case/v1p1/CFItems/:uuid', PUBLIC, async (request, reply) => {
    const program = await getProgram(store.db);
    const found = (await inForce()).find(({ uuid }) => uuid === request.params.uuid);
    if (found === undefined) throw new NotFound();
    return reply.send(caseItem(found, program, addressOf(program, request)));
  });
}
