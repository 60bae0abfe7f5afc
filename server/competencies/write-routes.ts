import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf } from '../web/access.ts';
import { Conflict } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { USUAL_RULE } from './evidence-rule.ts';
import { type Competency, getCompetency } from './queries.ts';
import { readRule, ruleValues } from './rule-form.ts';
import {
  addCompetency,
  type CompetencyDraft,
  changeCompetency,
  listCountable,
  seenOf,
  setRetired,
} from './written.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;
type CompetencyRequest = FastifyRequest<{ Params: { id: string } }>;

const line = (missing: string, most: number) =>
  z.string(missing).trim().min(1, missing).max(most, `Write at most ${most} letters.`);
const wordsForm = z.object({
  code: line('Write a short code, such as IC-LIFT.', 40).refine(
    (code) => /^[\p{L}\p{N}._-]+$/u.test(code),
    'Use letters, digits, dots and hyphens only.',
  ),
  title: line('Write what it is called.', 120),
  statement: z.string().trim().max(1000, 'Write at most 1000 letters.').default(''),
  course: z.string().trim().max(120, 'Write at most 120 letters.').default(''),
  reason: z.string().trim().max(500, 'Write at most 500 letters.').default(''),
  seen: z.string().max(40).default(''),
});

/** Writing competencies and their rules. */
export function writeRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/competencies/new', COORDINATOR, async (request, reply) =>
    formPage(request, reply, null, ruleValues(USUAL_RULE), {}),
  );

  app.post('/competencies', COORDINATOR, async (request, reply) => {
    const { draft, values, problems } = await draftIn(request);
    if (draft === null) return formPage(request, reply.code(422), null, values, problems);
    try {
      const at = app.clock().toISOString();
      const id = await writeTransaction(store, (trx) => addCompetency(trx, actorOf(request), draft, at));
      return reply.redirect(`/competencies/${id}?said=competency-kept`, 303);
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return formPage(request, reply.code(422), null, values, { code: error.message });
    }
  });

  app.get('/competencies/:id/edit', COORDINATOR, async (request: CompetencyRequest, reply) => {
    const competency = await asked(request);
    return formPage(request, reply, competency, valuesOf(competency), {});
  });

  app.post('/competencies/:id/edit', COORDINATOR, async (request: CompetencyRequest, reply) => {
    const competency = await asked(request);
    const { draft, values, problems } = await draftIn(request);
    if (draft === null) return formPage(request, reply.code(422), competency, values, problems);
    try {
      const at = app.clock().toISOString();
      await writeTransaction(store, (trx) =>
        changeCompetency(trx, actorOf(request), competency, draft, values.seen ?? '', at),
      );
      return reply.redirect(`/competencies/${competency.id}?said=competency-kept`, 303);
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return formPage(request, reply.code(422), competency, values, { code: error.message });
    }
  });

  app.post('/competencies/:id/retire', COORDINATOR, async (request: CompetencyRequest, reply) => {
    const competency = await asked(request);
    const at = competency.retiredAt === null ? app.clock().toISOString() : null;
    await writeTransaction(store, (trx) => setRetired(trx, actorOf(request), competency.id, at));
    return reply.redirect(`/competencies/${competency.id}`, 303);
  });

  function asked(request: CompetencyRequest): Promise<Competency> {
    return getCompetency(store.db, actorOf(request), readId(request.params.id), app.clock());
  }

  async function draftIn(
    request: FastifyRequest,
  ): Promise<{ draft: CompetencyDraft | null; values: Values; problems: Problems }> {
    const form = readForm(wordsForm, request.body);
    const problems: Problems = { ...form.problems };
    const rule = readRule(form.values, problems);
    const there = await listCountable(store.db, actorOf(request));
    const itemIds = there.map(({ id }) => id).filter((id) => form.values[`item-${id}`] === 'on');
    if (!form.ok || rule === null || Object.keys(problems).length > 0)
      return { draft: null, values: form.values, problems };
    return { draft: { ...form.value, rule, itemIds }, values: form.values, problems };
  }

  async function formPage(
    request: FastifyRequest,
    reply: FastifyReply,
    competency: Competency | null,
    values: Values,
    problems: Problems,
  ) {
    return reply.page('competencies/write', {
      title: competency === null ? 'New competency' : `Change ${competency.code}`,
      ...{ competency, values, problems },
      items: await listCountable(store.db, actorOf(request)),
    });
  }
}

function valuesOf(competency: Competency): Values {
  const { code, title, statement, course, rules } = competency;
  const last = rules.at(-1);
  return {
    ...{ code, title, statement, course, seen: seenOf(competency) },
    ...(last === undefined ? {} : ruleValues(last.rule)),
    ...Object.fromEntries((last?.itemIds ?? []).map((id) => [`item-${id}`, 'on'])),
  };
}
