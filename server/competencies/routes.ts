import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { listName } from '../accounts/index.ts';
import { noteLook } from '../audit/index.ts';
import { writeTransaction } from '../database/transaction.ts';
import { listGradedRuns, loadGradedAttempt } from '../review/index.ts';
import { getSignOff } from '../sign-offs/index.ts';
import { actorOf } from '../web/access.ts';
import { NotFound } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import { asOfAsked } from './as-of.ts';
import { ruleWords } from './evidence-rule.ts';
import {
  type Competency,
  getCompetency,
  getEvidence,
  listCompetencies,
  listPeople,
  listStandings,
  standingsAsOf,
} from './queries.ts';
import { reasonsOf, standingView } from './shown.ts';
import { STATE_WORDS, type StandingState } from './standing.ts';
import { appendWord, listWordsOn } from './words-queries.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;
type CompetencyRequest = FastifyRequest<{ Params: { id: string } }>;
type PersonRequest = FastifyRequest<{ Params: { id: string; studentId: string } }>;

/** Those who hold it first, then those nearest to it. */
const ORDER: readonly StandingState[] = [
  ...(['held', 'granted', 'practice', 'begun', 'lapsed', 'revoked', 'none'] as const),
];

const wordForm = z.object({
  word: z.enum(['granted', 'revoked', 'lifted'], 'Choose what you say.'),
  reason: z
    .string('Write the reason. It stands in the record.')
    .trim()
    .min(1, 'Write the reason. It stands in the record.')
    .max(1000, 'The reason is too long: 1000 letters are the most.'),
});

export function competenciesRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/competencies', COORDINATOR, async (request, reply) => {
    const actor = actorOf(request);
    const asOf = asOfAsked(request, app.clock());
    const all = await listCompetencies(store.db, actor, new Date(asOf.at));
    const found = await standingsAsOf(store.db, all, asOf.at);
    return reply.page('competencies/list', {
      title: 'Competencies',
      wide: true,
      asOf,
      courses: byCourse(all).map(([course, competencies]) => ({
        course,
        competencies: competencies.map((one) => {
          const states = found.studentIds.map((id) => found.standing(id, one.id).state);
          return {
            ...{ id: one.id, code: one.code, title: one.title, retired: one.retiredAt !== null },
            ruleWords: ruleWords(one.rule),
            ruleVersion: one.ruleVersion,
            counts: ORDER.filter((state) => state !== 'none').map((state) => ({
              state,
              words: STATE_WORDS[state],
              people: states.filter((other) => other === state).length,
            })),
          };
        }),
      })),
    });
  });

  app.get('/competencies/:id', COORDINATOR, async (request: CompetencyRequest, reply) => {
    const { asOf, competency } = await asked(request);
    const people = await listStandings(store.db, actorOf(request), competency, asOf.at);
    return reply.page('competencies/competency', {
      title: competency.title,
      wide: true,
      ...{ asOf, competency, ruleWords: ruleWords(competency.rule) },
      inForceWhen: timeWords(competency.inForceFrom),
      rules: competency.rules.map(({ version, from, rule }) => ({
        ...{ version, from, when: timeWords(from), words: ruleWords(rule) },
      })),
      groups: ORDER.map((state) => ({
        state,
        words: STATE_WORDS[state],
        people: people
          .filter(({ standing }) => standing.state === state)
          .map((person) => ({
            id: person.studentId,
            name: `${person.familyName}, ${person.givenName}`,
            number: person.studentNumber,
            ...standingView(person.standing),
          })),
      })).filter((group) => group.people.length > 0),
    });
  });

  app.get('/competencies/:id/people/:studentId', COORDINATOR, async (request: PersonRequest, reply) =>
    personPage(request, reply, {}, {}),
  );

  app.post('/competencies/:id/people/:studentId', COORDINATOR, async (request: PersonRequest, reply) => {
    const { competency } = await asked(request);
    const { studentId } = await personAsked(request);
    const form = readForm(wordForm, request.body);
    if (!form.ok) return personPage(request, reply.code(422), form.values, form.problems);
    const at = app.clock().toISOString();
    await writeTransaction(store, (trx) =>
      appendWord(trx, actorOf(request), { competencyId: competency.id, studentId, ...form.value, at }),
    );
    return reply.redirect(`/competencies/${competency.id}/people/${studentId}?said=word-kept`, 303);
  });

  app.get<{ Params: { id: string; attemptId: string } }>(
    '/competencies/:id/attempts/:attemptId',
    COORDINATOR,
    async (request, reply) => {
      const { competency } = await asked(request);
      const attempt = await getEvidence(store.db, actorOf(request), competency, request.params.attemptId);
      const graded = await loadGradedAttempt(store.db, attempt.id);
      await noteLook(
        store,
        actorOf(request),
        attempt.studentId,
        `run ${attempt.id.slice(0, 8)}`,
        app.clock(),
      );
      const found = await standingsAsOf(store.db, [competency], app.clock().toISOString(), [
        attempt.studentId,
      ]);
      const run = found.evidence(attempt.studentId, competency.id).runs.find(({ id }) => id === attempt.id);
      const reasons = run === undefined ? ['not graded'] : reasonsOf(competency, run);
      return reply.page('competencies/evidence', {
        title: `Evidence: ${graded.student.name}`,
        wide: true,
        scripts: ['replay.js'],
        ...{ competency, reasons, graded, studentId: attempt.studentId },
      });
    },
  );

  app.get<{ Params: { id: string; signOffId: string } }>(
    '/competencies/:id/sign-offs/:signOffId',
    COORDINATOR,
    async (request, reply) => {
      const { competency } = await asked(request);
      const signOff = await getSignOff(store.db, request.params.signOffId);
      if (!competency.itemIds.includes(signOff.itemId)) throw new NotFound();
      await noteLook(
        store,
        actorOf(request),
        signOff.student.id,
        `sign-off ${signOff.id.slice(0, 8)}`,
        app.clock(),
      );
      return reply.page('competencies/sign-off', {
        title: `Sign-off: ${signOff.student.name}`,
        ...{ competency, signOff },
        startedWhen: timeWords(signOff.startedAt),
        signatures: signOff.signatures.map((one) => ({
          ...one,
          madeWhen: timeWords(one.madeAt),
          arrivedWhen: timeWords(one.arrivedAt),
        })),
      });
    },
  );

  async function asked(request: CompetencyRequest | PersonRequest) {
    const asOf = asOfAsked(request, app.clock());
    const id = readId(request.params.id);
    return { asOf, competency: await getCompetency(store.db, actorOf(request), id, new Date(asOf.at)) };
  }

  async function personAsked(request: PersonRequest) {
    const id = readId(request.params.studentId);
    const student = await store.db
      .selectFrom('people')
      .where('id', '=', id)
      .where('role', '=', 'student')
      .select('id')
      .executeTakeFirst();
    const [person] = student === undefined ? [] : await listPeople(store.db, [id]);
    if (person === undefined) throw new NotFound();
    return person;
  }

  /** The evidence of one person for one competency, what is made of it, and a coordinator's word on it. */
  async function personPage(request: PersonRequest, reply: FastifyReply, values: Values, problems: Problems) {
    const { asOf, competency } = await asked(request);
    const person = await personAsked(request);
    await noteLook(store, actorOf(request), person.studentId, `evidence for ${competency.code}`, app.clock());
    const found = await standingsAsOf(store.db, [competency], asOf.at, [person.studentId]);
    const standing = found.standing(person.studentId, competency.id);
    const evidence = found.evidence(person.studentId, competency.id);
    const runs = await listGradedRuns(store.db, competency.itemIds, { studentId: person.studentId });
    const words = await listWordsOn(store.db, competency.id, person.studentId, asOf.at);
    const by = new Set([...(standing.by?.runs ?? []), ...(standing.by?.signOffs ?? [])].map(({ id }) => id));
    return reply.page('competencies/person', {
      title: `${competency.code}: ${listName({ given_name: person.givenName, family_name: person.familyName })}`,
      wide: true,
      ...{ asOf, competency, values, problems },
      ruleWords: ruleWords(competency.rule),
      person: { ...person, name: `${person.givenName} ${person.familyName}` },
      standing: { ...standingView(standing), ruleVersion: standing.ruleVersion },
      runs: evidence.runs.map((run) => {
        const summary = runs.find(({ id }) => id === run.id);
        return {
          ...run,
          when: timeWords(run.at),
          title: summary === undefined ? '' : `${summary.itemTitle}, try ${summary.tryNumber}`,
          section: summary === undefined ? '' : `${summary.sectionName}, ${summary.term}`,
          total: Object.values(run.points).reduce((sum, one) => sum + one, 0),
          holds: by.has(run.id),
          reasons: reasonsOf(competency, run),
        };
      }),
      signOffs: evidence.signOffs.map((one) => ({ ...one, when: timeWords(one.at), holds: by.has(one.id) })),
      words: words.map((one) => ({ ...one, when: timeWords(one.at) })),
    });
  }
}

/** Competencies in the order they come, by course. */
function byCourse(all: readonly Competency[]): readonly (readonly [string, readonly Competency[]])[] {
  const courses = new Map<string, Competency[]>();
  for (const one of all) courses.set(one.course, [...(courses.get(one.course) ?? []), one]);
  return [...courses];
}
