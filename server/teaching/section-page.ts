import type { FastifyInstance, FastifyRequest } from 'fastify';
import { listAssignments, listExtensions } from '../labsheets/index.ts';
import { getTaughtSection, listRoster } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { readId } from '../web/forms.ts';
import { localWords } from '../web/local-time.ts';

/** A section's own page: what is assigned to it, and who is on its roster. */
export function sectionPage(app: FastifyInstance): void {
  const { db } = app.store;

  app.get(
    '/sections/:id',
    { config: { access: 'instructor', substitutes: true } },
    async (request: FastifyRequest<{ Params: { id: string } }>, reply) => {
      const section = await getTaughtSection(db, actorOf(request), readId(request.params.id));
      const students = await listRoster(db, actorOf(request), section.id);
      const assigned = await listAssignments(db, section.id);
      const sheets = await Promise.all(
        assigned.map(async ({ sheetId, title, dueAt, begun }) => ({
          ...{ sheetId, title, begun },
          due: dueAt === null ? null : localWords(dueAt, section.timeZone),
          extra: (await listExtensions(db, section.id, sheetId)).size,
        })),
      );
      return reply.page('teaching/section', {
        title: section.name,
        ...{ section, sheets, students },
        withoutPassword: students.filter((one) => one.password === 'none' && one.mayGivePassword).length,
      });
    },
  );
}
