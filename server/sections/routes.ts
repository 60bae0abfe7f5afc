import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { UPLOAD_BYTES } from '../config.ts';
import { actorOf } from '../web/access.ts';
import { AppError } from '../web/errors.ts';
import { readForm, readId } from '../web/forms.ts';
import { type GivenPassword, giveFirstPassword, giveFirstPasswords } from './first-passwords.ts';
import { getTaughtSection, listTaughtSections, type TaughtSection } from './queries.ts';
import { readRosterCsv } from './roster-csv.ts';
import { importRoster } from './roster-import.ts';
import { decodeRoster } from './roster-text.ts';
import {
  type PasswordsView,
  type RosterLoadedView,
  type RosterView,
  resetForm,
  rosterForm,
  type SectionsView,
} from './schema.ts';

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

  app.get<SectionParams>('/sections/:id/roster', INSTRUCTOR, async (request, reply) => {
    const section = await sectionAsked(request);
    return rosterPage(reply, { section, values: {}, problems: {}, lines: [], notes: [] });
  });

  app.post<SectionParams>('/sections/:id/roster', INSTRUCTOR, async (request, reply) => {
    const section = await sectionAsked(request);
    const form = readForm(rosterForm, request.body);
    const refuse = (parts: Partial<RosterView>) =>
      rosterPage(reply.code(422), {
        section,
        values: form.values,
        problems: {},
        lines: [],
        notes: [],
        ...parts,
      });
    if (!form.ok) return refuse({ problems: { file: 'Choose a file, or paste the list.' } });

    const { file, pasted } = form.value;
    if (file && pasted) return refuse({ problems: { file: 'Choose a file or paste the list, not both.' } });
    if (pasted && Buffer.byteLength(pasted) >= UPLOAD_BYTES) {
      throw new AppError('too-large', 'The pasted list is too large: 1 MB is the most. Nothing was saved.');
    }
    if (!file && !pasted) return refuse({ problems: { file: 'Choose a file, or paste the list.' } });

    const decoded = file ? decodeRoster(file) : { text: pasted ?? '', notes: [] };
    if (!decoded) {
      return refuse({
        problems: { file: 'This is not a text file. Save the spreadsheet as CSV and choose that file.' },
      });
    }
    const read = readRosterCsv(decoded.text);
    const notes = [...decoded.notes, ...read.notes];
    if (!read.ok) return refuse({ lines: read.problems, notes });

    const result = await importRoster(store, actorOf(request), section.id, read.rows, app.clock());
    if ('problems' in result) return refuse({ lines: result.problems, notes });
    const view: RosterLoadedView = { title: 'Roster loaded', section, imported: result.imported, notes };
    return reply.page('sections/roster-loaded', view);
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

function rosterPage(reply: FastifyReply, data: Omit<RosterView, 'title'>): FastifyReply {
  const view: RosterView = { title: 'Load a roster', ...data };
  return reply.page('sections/roster', view);
}

function passwordsPage(
  reply: FastifyReply,
  section: TaughtSection,
  given: readonly GivenPassword[],
): FastifyReply {
  const view: PasswordsView = { title: 'First passwords', section, given };
  return reply.page('sections/passwords', view);
}
