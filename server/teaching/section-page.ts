import type { FastifyInstance, FastifyRequest } from 'fastify';
import { listAssignments, listExtensions } from '../labsheets/index.ts';
import { countWaiting } from '../review/index.ts';
import { getTaughtSection, listAsking, listRoster } from '../sections/index.ts';
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
      const substitute = actorOf(request).substitute;
      return reply.page('teaching/section', {
        title: section.name,
        ...{ section, sheets, students },
        places: substitute
          ? []
          : placesOf({
              review: await countWaiting(db, section.id),
              asking: (await listAsking(db, section.id)).length,
            }),
        withoutPassword: students.filter((one) => one.password === 'none' && one.mayGivePassword).length,
      });
    },
  );
}

/** Where the work of a section is found: pages below its own address, with their words. */
function placesOf({ review, asking }: { readonly review: number; readonly asking: number }) {
  const waits = (count: number) => (count === 0 ? '' : count === 1 ? ': one waits' : `: ${count} wait`);
  return [
    {
      title: 'In the shop',
      pages: [
        ['floor', 'The floor'],
        ['sign-offs', 'Shop engines'],
        ['gauge-studies', 'Gauge studies'],
      ],
    },
    {
      title: 'Their work',
      pages: [
        ['review', `Review${waits(review)}`],
        ['weak-spots', 'What goes wrong'],
        ['scores', 'Scores'],
      ],
    },
    {
      title: 'The course',
      pages: [
        ['lessons', 'Lessons'],
        ['reading', 'Reading'],
      ],
    },
    {
      title: 'The section',
      pages: [
        ['roster', 'Load a roster'],
        ['asking', `Asking to be on it${waits(asking)}`],
        ['paper', 'Paper'],
        ['settings', 'Settings'],
      ],
    },
  ];
}
