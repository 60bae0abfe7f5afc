import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { getTaughtSection, listRoster } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { Conflict } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import { beginForm, choicesOf, firstChoices, readBeginning } from './begin.ts';
import { listReady, listSignOffs } from './queries.ts';
import { type Place, rotationOf } from './rotation.ts';
import { beginSignOff } from './write.ts';

const LAB = { config: { access: 'instructor', substitutes: true } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;

/** The lab of a section: who waits, what is open, a new sign-off, the rotation list. */
export function assessorRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();
  const sectionAsked = (request: SectionRequest) =>
    getTaughtSection(store.db, actorOf(request), readId(request.params.id));

  app.get('/sections/:id/sign-offs', LAB, async (request: SectionRequest, reply) =>
    labPage(request, reply, askedFor(request), {}),
  );

  app.post('/sections/:id/sign-offs', LAB, async (request: SectionRequest, reply) => {
    const actor = actorOf(request);
    const section = await sectionAsked(request);
    const at = now();
    const choices = await choicesOf(store.db, section.id, at.slice(0, 10));
    const students = await listRoster(store.db, actor, section.id);
    const form = readForm(beginForm, request.body);
    if (!form.ok) return labPage(request, reply.code(422), form.values, form.problems);
    const { beginning, problems } = readBeginning(form.value, choices, students, section.id, at);
    if (beginning === null) return labPage(request, reply.code(422), form.values, problems);
    try {
      const id = await writeTransaction(store, (trx) => beginSignOff(trx, actor, beginning));
      return reply.redirect(`/sections/${section.id}/sign-offs/${id}`, 303);
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return labPage(request, reply.code(422), form.values, { studentId: error.message });
    }
  });

  app.get('/sections/:id/rotation', LAB, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    const roster = await listRoster(store.db, actorOf(request), section.id);
    const { engines } = await choicesOf(store.db, section.id, now().slice(0, 10));
    const asked = (request.query ?? {}) as Values;
    const places = engines.filter(({ id }) => asked[`engine-${id}`] === 'on');
    const whole = (name: string, usual: number, least: number, most: number) => {
      const value = Number(asked[name] ?? usual);
      return Number.isInteger(value) && value >= least && value <= most ? value : usual;
    };
    const minutes = whole('minutes', 25, 5, 240);
    const used: readonly Place[] = (places.length > 0 ? places : engines).map(({ number, name }) => ({
      ...{ number, name },
    }));
    return reply.page('sign-offs/rotation', {
      title: `Rotation of ${section.name}`,
      ...{
        section,
        engines,
        minutes,
        begin: /^\d{1,2}:\d{2}$/.test(asked.begin ?? '') ? asked.begin : '08:00',
      },
      chosen: places.map(({ id }) => id),
      turns: rotationOf(
        roster.map((one) => `${one.family_name}, ${one.given_name}`),
        used,
        { minutes, begin: asked.begin ?? '08:00' },
      ),
    });
  });

  async function labPage(
    request: SectionRequest,
    reply: FastifyReply,
    typed: Values | null,
    problems: Problems,
  ) {
    const section = await sectionAsked(request);
    const choices = await choicesOf(store.db, section.id, now().slice(0, 10));
    const roster = await listRoster(store.db, actorOf(request), section.id);
    const at = Date.parse(now());
    return reply.page('sign-offs/lab', {
      title: `Shop engines of ${section.name}`,
      ...{ section, choices, problems, values: { ...firstChoices(choices), ...typed } },
      students: roster.map((one) => ({ value: one.id, text: `${one.family_name}, ${one.given_name}` })),
      waiting: (await listReady(store.db, section.id)).map((one) => ({
        ...one,
        minutes: Math.max(0, Math.floor((at - Date.parse(one.since)) / 60_000)),
      })),
      lines: (await listSignOffs(store.db, section.id)).map((one) => ({
        ...one,
        when: timeWords(one.signedAt ?? one.startedAt),
      })),
    });
  }
}

/** Whom and what the address asks for, as a sheet of paper that was found again does. */
function askedFor(request: SectionRequest): Values {
  const { student, item } = (request.query ?? {}) as Values;
  return {
    ...(typeof student === 'string' ? { studentId: student } : {}),
    ...(typeof item === 'string' ? { itemId: item } : {}),
  };
}
