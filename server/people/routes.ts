import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { noteLook } from '../audit/index.ts';
import { asOfAsked, listCompetencies, standingsAsOf, standingView } from '../competencies/index.ts';
import { listPastExports } from '../disclosures/index.ts';
import { listTranscripts } from '../transcripts/index.ts';
import { actorOf } from '../web/access.ts';
import { readId, type Values } from '../web/forms.ts';
import { codeWords } from '../web/short-code.ts';
import { dayWords, timeWords } from '../web/words/index.ts';
import { findPeople, getPersonFile, MOST_FOUND } from './queries.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;
type PersonRequest = FastifyRequest<{ Params: { id: string } }>;

/** People of the program over the years, for the coordinator. */
export function peopleRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/people', COORDINATOR, async (request, reply) => {
    const { q } = (request.query ?? {}) as Values;
    const typed = typeof q === 'string' ? q.trim().slice(0, 100) : '';
    const found = await findPeople(store.db, typed);
    return reply.page('people/list', {
      title: 'People',
      ...{ typed, most: MOST_FOUND, more: found.length > MOST_FOUND },
      found: found.slice(0, MOST_FOUND),
    });
  });

  app.get('/people/:id', COORDINATOR, (request: PersonRequest, reply) => personPage(request, reply));

  async function personPage(request: PersonRequest, reply: FastifyReply) {
    const actor = actorOf(request);
    const asOf = asOfAsked(request, app.clock());
    const person = await getPersonFile(store.db, readId(request.params.id));
    const isStudent = person.role === 'student';
    if (isStudent) await noteLook(store, actor, person.id, 'the whole record', app.clock());
    const competencies = isStudent ? await listCompetencies(store.db, actor, new Date(asOf.at)) : [];
    const standings = await standingsAsOf(store.db, competencies, asOf.at, [person.id]);
    const past = isStudent ? await listPastExports(store.db, { studentId: person.id }) : [];
    const given = isStudent ? await listTranscripts(store.db, person.id) : [];
    return reply.page('people/person', {
      title: `${person.givenName} ${person.familyName}`,
      ...{ asOf, isStudent },
      person: { ...person, sinceWords: dayWords(person.since.slice(0, 10)) },
      sections: person.sections.map((one) => ({
        ...one,
        dates: [
          one.from === null ? '' : `from ${dayWords(one.from.slice(0, 10))}`,
          one.leftAt === null ? '' : `left ${dayWords(one.leftAt.slice(0, 10))}`,
        ]
          .filter((words) => words !== '')
          .join(', '),
      })),
      standings: competencies
        .map((one) => ({
          ...{ id: one.id, code: one.code, title: one.title, retired: one.retiredAt !== null },
          ...standingView(standings.standing(person.id, one.id)),
        }))
        .filter(({ state, retired }) => !retired || state !== 'none'),
      transcripts: given.map((one) => ({
        ...one,
        ...{ codeShown: codeWords(one.code), when: timeWords(one.at) },
      })),
      past: past.map((one) => ({ ...one, when: timeWords(one.at) })),
    });
  }
}
