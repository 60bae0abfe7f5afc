import type { FastifyInstance } from 'fastify';
import { listName } from '../accounts/index.ts';
import { loadGradedAttempt } from '../review/index.ts';
import { actorOf } from '../web/access.ts';
import { readId } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import {
  type Competency,
  getCompetency,
  getEvidence,
  listCompetencies,
  listStandings,
  type Standing,
} from './queries.ts';
import { decide, ruleWords } from './rule.ts';
import type { CompetenciesPage, CompetencyView, EvidencePage, StudentView } from './schema.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;

export function competenciesRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/competencies', COORDINATOR, async (request, reply) => {
    const actor = actorOf(request);
    const views: CompetencyView[] = [];
    for (const competency of await listCompetencies(store.db, actor, app.clock())) {
      views.push(competencyView(competency, await listStandings(store.db, actor, competency)));
    }
    const page: CompetenciesPage = { title: 'Competencies', wide: true, competencies: views };
    return reply.page('competencies/list', page);
  });

  app.get<{ Params: { id: string; attemptId: string } }>(
    '/competencies/:id/attempts/:attemptId',
    COORDINATOR,
    async (request, reply) => {
      const actor = actorOf(request);
      const competency = await getCompetency(store.db, actor, readId(request.params.id), app.clock());
      const attempt = await getEvidence(store.db, actor, competency, request.params.attemptId);
      const [judged] = decide(competency.rule, [attempt]).attempts;
      const graded = await loadGradedAttempt(store.db, attempt.id);
      const page: EvidencePage = {
        title: `Evidence: ${graded.student.name}`,
        wide: true,
        scripts: ['replay.js'],
        competency,
        counts: judged?.counts ?? false,
        reasons: judged?.reasons ?? [],
        graded,
      };
      return reply.page('competencies/evidence', page);
    },
  );
}

function competencyView(competency: Competency, standings: readonly Standing[]): CompetencyView {
  const meets = ({ decision }: Standing) => decision.meetsSimulatedPart;
  return {
    id: competency.id,
    code: competency.code,
    title: competency.title,
    ruleWords: ruleWords(competency.rule),
    ruleVersion: competency.ruleVersion,
    inForceFrom: competency.inForceFrom,
    inForceWhen: timeWords(competency.inForceFrom),
    signOffs: competency.rule.shopSignOffs,
    meeting: standings.filter(meets).map(studentView),
    trying: standings.filter((standing) => !meets(standing)).map(studentView),
  };
}

function studentView({ givenName, familyName, studentNumber, attempts, decision }: Standing): StudentView {
  const judged = new Map(decision.attempts.map((one) => [one.id, one]));
  return {
    name: listName({ given_name: givenName, family_name: familyName }),
    number: studentNumber,
    missing: decision.missing,
    runs: attempts.map((attempt) => ({
      id: attempt.id,
      itemTitle: attempt.itemTitle,
      sectionWords: `${attempt.sectionName}, ${attempt.term}`,
      tryNumber: attempt.tryNumber,
      points: attempt.points ?? 0,
      changed: attempt.changed,
      handedInAt: attempt.handedInAt ?? '',
      handedInWhen: attempt.handedInAt === null ? '' : timeWords(attempt.handedInAt),
      counts: judged.get(attempt.id)?.counts ?? false,
      reasons: judged.get(attempt.id)?.reasons ?? [],
    })),
  };
}
