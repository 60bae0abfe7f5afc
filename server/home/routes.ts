import type { FastifyInstance } from 'fastify';
import { dueWords, listAssigned } from '../labsheets/index.ts';
import { listOwnSignOffs } from '../sign-offs/index.ts';
import { actorOf } from '../web/access.ts';

export function homeRoutes(app: FastifyInstance): void {
  app.get('/', { config: { access: 'signed-in' } }, async (request, reply) => {
    const actor = actorOf(request);
    if (actor.role === 'instructor') return reply.redirect('/sections', 303);
    if (actor.role === 'coordinator') return reply.redirect('/competencies', 303);
    const now = app.clock().toISOString();
    const sheets = (await listAssigned(app.store.db, actor, now)).map((sheet) => ({
      ...sheet,
      dueWords: dueWords(sheet.due, sheet.timeZone, now),
    }));
    const signOffs = await listOwnSignOffs(app.store.db, actor.id);
    return reply.page('home/student', { title: 'Lab sheets', sheets, signOffs });
  });
}
