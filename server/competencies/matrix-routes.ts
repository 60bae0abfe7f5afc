import type { FastifyInstance } from 'fastify';
import { actorOf } from '../web/access.ts';
import type { Values } from '../web/forms.ts';
import { asOfAsked } from './as-of.ts';
import { listProgramSections, listProgramStudents } from './program.ts';
import { listCompetencies, listPeople, requireCoordinator, standingsAsOf } from './queries.ts';
import { standingView } from './shown.ts';
import { STATE_WORDS, type StandingState } from './standing.ts';

/** So many people stand on a page of the matrix. */
const ON_A_PAGE = 50;

/** Students and competencies, for a section, a course or the whole program. */
export function matrixRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/matrix', { config: { access: 'coordinator' } }, async (request, reply) => {
    const actor = actorOf(request);
    requireCoordinator(actor);
    const asOf = asOfAsked(request, app.clock());
    const asked = (request.query ?? {}) as Values;
    const text = (name: string) => (typeof asked[name] === 'string' ? asked[name] : '');
    const all = await listCompetencies(store.db, actor, new Date(asOf.at));
    const course = all.some((one) => one.course === text('course')) ? text('course') : '';
    const competencies = all.filter(
      (one) => one.retiredAt === null && (course === '' || one.course === course),
    );
    const sections = await listProgramSections(store.db);
    const section = sections.find(({ id }) => String(id) === text('section'));
    const ids = await listProgramStudents(store.db, section?.id ?? null);
    const people = await listPeople(store.db, ids);
    const pages = Math.max(1, Math.ceil(people.length / ON_A_PAGE));
    const page = Math.min(pages, Math.max(1, Math.trunc(Number(text('page'))) || 1));
    const shown = people.slice((page - 1) * ON_A_PAGE, page * ON_A_PAGE);
    const found = await standingsAsOf(
      store.db,
      competencies,
      asOf.at,
      shown.map(({ studentId }) => studentId),
    );
    return reply.page('competencies/matrix', {
      title: 'Matrix',
      wide: true,
      ...{ asOf, competencies, page, pages },
      total: people.length,
      filter: { section: section === undefined ? '' : String(section.id), course, asOf: asOf.day },
      sections: sections.map(({ id, name, term }) => ({ value: String(id), text: `${name}, ${term}` })),
      courses: [...new Set(all.map((one) => one.course))].filter((one) => one !== ''),
      states: Object.entries(STATE_WORDS) as [StandingState, string][],
      people: shown.map((person) => ({
        id: person.studentId,
        name: `${person.familyName}, ${person.givenName}`,
        number: person.studentNumber,
        cells: competencies.map((one) => ({
          competencyId: one.id,
          code: one.code,
          ...standingView(found.standing(person.studentId, one.id)),
        })),
      })),
    });
  });
}
