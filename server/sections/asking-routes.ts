import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf } from '../web/access.ts';
import { Conflict } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { limit } from '../web/limit.ts';
import { codeWords, readCode } from '../web/short-code.ts';
import { timeWords } from '../web/words/index.ts';
import { answerAsking, ask, findByCode, getJoinCode, listAsking, planAsking, setAsking } from './asking.ts';
import { getTaughtSection } from './queries.ts';
import { checkStudent } from './roster-row.ts';
import { joinForm } from './schema.ts';

const PUBLIC = { config: { access: 'public' } } as const;
const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;
type AskingRequest = FastifyRequest<{ Params: { id: string; requestId: string } }>;

/** A class may ask together through one address. */
const TRIES = { max: 100, timeWindow: 600_000 };

/** Students who are missing from a roster ask to be put on it; their instructor decides. */
export function askingRoutes(app: FastifyInstance): void {
  const { store } = app;
  const perAddress = app.createRateLimit(TRIES);
  const now = () => app.clock().toISOString();
  const sectionAsked = (request: SectionRequest | AskingRequest) =>
    getTaughtSection(store.db, actorOf(request), readId(request.params.id));

  app.get('/join', PUBLIC, async (request, reply) => {
    const { code, asked } = (request.query ?? {}) as Values;
    return joinPage(reply, typeof code === 'string' ? { code } : {}, {}, asked === 'yes');
  });

  app.post('/join', PUBLIC, async (request, reply) => {
    await limit(request, reply, perAddress);
    const form = readForm(joinForm, request.body);
    if (!form.ok) return joinPage(reply.code(422), form.values, form.problems);
    const { code: typed, ...cells } = form.value;
    const problems: Problems = {};
    const code = readCode(typed);
    const section = code === null ? null : await findByCode(store.db, code);
    if (section === null)
      problems.code = 'No section has this code now. Look again, or ask your instructor for a new one.';
    const checked = checkStudent(1, cells);
    for (const { field, message } of checked.problems) problems[field.replace(' ', '_')] = message;
    const { row } = checked;
    if (section === null || row === undefined) return joinPage(reply.code(422), form.values, problems);
    try {
      await writeTransaction(store, (trx) => ask(trx, section.id, row, now()));
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return joinPage(reply.code(422), form.values, { code: error.message });
    }
    return reply.redirect('/join?asked=yes', 303);
  });

  app.get('/sections/:id/asking', INSTRUCTOR, async (request: SectionRequest, reply) =>
    askingPage(request, reply, null),
  );

  app.post('/sections/:id/asking/open', INSTRUCTOR, async (request: SectionRequest, reply) =>
    openOrClose(request, reply, true),
  );
  app.post('/sections/:id/asking/close', INSTRUCTOR, async (request: SectionRequest, reply) =>
    openOrClose(request, reply, false),
  );

  app.post('/sections/:id/asking/:requestId/take', INSTRUCTOR, async (request: AskingRequest, reply) =>
    answer(request, reply, true),
  );
  app.post('/sections/:id/asking/:requestId/decline', INSTRUCTOR, async (request: AskingRequest, reply) =>
    answer(request, reply, false),
  );

  async function openOrClose(request: SectionRequest, reply: FastifyReply, open: boolean) {
    const section = await sectionAsked(request);
    await writeTransaction(store, (trx) => setAsking(trx, section.id, open));
    return reply.redirect(
      `/sections/${section.id}/asking?said=${open ? 'asking-open' : 'asking-closed'}`,
      303,
    );
  }

  async function answer(request: AskingRequest, reply: FastifyReply, take: boolean) {
    const section = await sectionAsked(request);
    const requestId = readId(request.params.requestId);
    try {
      await writeTransaction(store, (trx) =>
        answerAsking(trx, actorOf(request), section.id, { requestId, take, at: now() }),
      );
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return askingPage(request, reply.code(422), error.message);
    }
    return reply.redirect(
      `/sections/${section.id}/asking?said=${take ? 'asking-taken' : 'asking-declined'}`,
      303,
    );
  }

  async function askingPage(request: SectionRequest, reply: FastifyReply, problem: string | null) {
    const section = await sectionAsked(request);
    const code = await getJoinCode(store.db, section.id);
    const waiting = await listAsking(store.db, section.id);
    const planned = await Promise.all(
      waiting.map((one) => planAsking(store.db, actorOf(request), section.id, one)),
    );
    return reply.page('sections/asking', {
      title: `Asking to be on the roster of ${section.name}`,
      ...{ section, problem },
      code: code === null ? null : codeWords(code),
      address: code === null ? null : `${request.protocol}://${request.host}/join?code=${code}`,
      waiting: waiting.map(({ id, row, at }, index) => {
        const plan = planned[index];
        const known = plan !== undefined && !('problem' in plan) ? plan : null;
        return {
          ...{ id, at, when: timeWords(at) },
          name: `${row.familyName}, ${row.givenName}`,
          number: row.studentNumber,
          email: row.email,
          problem: plan !== undefined && 'problem' in plan ? plan.problem : null,
          isNew: known?.personId === null,
          onRoster: known?.onRoster ?? false,
          knownAs: known?.differs.find(({ what }) => what === 'name')?.here ?? null,
        };
      }),
    });
  }
}

function joinPage(reply: FastifyReply, values: Values, problems: Problems, asked = false) {
  return reply.page('sections/join', { title: 'Ask to be on a roster', values, problems, asked });
}
