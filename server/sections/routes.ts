import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { actorOf } from '../web/access.ts';
import { readForm, readId } from '../web/forms.ts';
import { type GivenPassword, giveFirstPassword, giveFirstPasswords } from './first-passwords.ts';
import { getTaughtSection, listTaughtSections, type TaughtSection } from './queries.ts';
import { type PasswordsView, resetForm, type SectionsView } from './schema.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;

interface SectionParams {
  Params: { id: string };
}

export function sectionsRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/sections', { config: { access: 'instructor', substitutes: true } }, async (request, reply) => {
    const sections = await listTaughtSections(store.db, actorOf(request));
    const view: SectionsView = { title: 'Sections', sections };
    return reply.page('sections/list', view);
  });

  app.post<SectionParams>('/sections/:id/first-passwords', INSTRUCTOR, async (request, reply) => {
    const section = await sectionAsked(request);
    return passwordsPage(reply, section, await giveFirstPasswords(store, actorOf(request), section.id));
  });

  app.post<{ Params: { id: string; studentId: string } }>(
    '/sections/:id/students/:studentId/first-password',
    INSTRUCTOR,
    async (request, reply) => {
      const section = await sectionAsked(request);
      const form = readForm(resetForm, request.body);
      const reset = form.ok && form.value.reset === 'yes';
      const studentId = readId(request.params.studentId);
      const given = await giveFirstPassword(store, actorOf(request), section.id, studentId, reset);
      return passwordsPage(reply, section, given);
    },
  );

  /** The section in the address, if the caller teaches it. */
  function sectionAsked(request: FastifyRequest<SectionParams>): Promise<TaughtSection> {
    return getTaughtSection(store.db, actorOf(request), readId(request.params.id));
  }
}

function passwordsPage(
  reply: FastifyReply,
  section: TaughtSection,
  given: readonly GivenPassword[],
): FastifyReply {
  const view: PasswordsView = { title: 'First passwords', section, given };
  return reply.page('sections/passwords', view);
}
