import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { getTaughtSection, listRoster } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { AppError } from '../web/errors.ts';
import { readId } from '../web/forms.ts';
import { answerCalls, call, ownAttempt } from './queries.ts';
import { floorOf } from './snapshot.ts';
import { needsSomebody } from './state.ts';
import { Watch } from './watch.ts';
import { STATE_WORDS } from './words.ts';

const LAB = { config: { access: 'instructor', substitutes: true } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;

/** A stream ends by itself after this; the browser asks for another, and who asks is looked at again. */
const STREAM_MS = 240_000;
const BEAT_MS = 15_000;
/** Tabs of one person that may watch at once. */
const MOST_STREAMS = 6;

export function floorRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();
  const watch = new Watch(store);
  const streams = new Map<number, Set<() => void>>();
  app.addHook('preClose', async () => {
    for (const open of streams.values()) for (const end of open) end();
  });

  app.get('/sections/:id/floor', LAB, async (request: SectionRequest, reply) =>
    floorPage(request, reply, 'floor/floor'),
  );

  app.get('/sections/:id/floor/rows', LAB, async (request: SectionRequest, reply) =>
    floorPage(request, reply, 'floor/rows'),
  );

  app.get('/sections/:id/floor/events', LAB, async (request: SectionRequest, reply) => {
    const actor = actorOf(request);
    await getTaughtSection(store.db, actor, readId(request.params.id));
    const own = streams.get(actor.id) ?? new Set();
    if (own.size >= MOST_STREAMS)
      throw new AppError('too-many', 'The floor is open in too many windows. Close some of them.');
    streams.set(actor.id, own);
    reply.hijack();
    const { raw } = reply;
    raw.writeHead(200, {
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
    });
    raw.write('retry: 2000\n\nevent: changed\ndata: 0\n\n');
    let count = 0;
    const stop = watch.on(() => {
      count += 1;
      raw.write(`event: changed\ndata: ${count}\n\n`);
    });
    const beat = setInterval(() => raw.write(': here\n\n'), BEAT_MS);
    const end = () => {
      stop();
      clearInterval(beat);
      clearTimeout(limit);
      own.delete(end);
      raw.end();
    };
    const limit = setTimeout(end, STREAM_MS);
    own.add(end);
    raw.on('close', end);
  });

  app.post<{ Params: { id: string; studentId: string } }>(
    '/sections/:id/floor/:studentId/answer',
    LAB,
    async (request, reply) => {
      const section = await getTaughtSection(store.db, actorOf(request), readId(request.params.id));
      const studentId = readId(request.params.studentId);
      await writeTransaction(store, (trx) =>
        answerCalls(trx, actorOf(request), section.id, studentId, now()),
      );
      return reply.redirect(`/sections/${section.id}/floor`, 303);
    },
  );

  app.post<{ Params: { id: string } }>(
    '/attempts/:id/call',
    { config: { access: 'student' } },
    async (request, reply) => {
      const actor = actorOf(request);
      const attempt = await ownAttempt(store.db, actor, request.params.id);
      await writeTransaction(store, (trx) =>
        call(trx, { sectionId: attempt.section_id, studentId: actor.id, attemptId: attempt.id, at: now() }),
      );
      return reply.redirect(`/attempts/${attempt.id}?said=called`, 303);
    },
  );

  async function floorPage(request: SectionRequest, reply: FastifyReply, view: 'floor/floor' | 'floor/rows') {
    const actor = actorOf(request);
    const section = await getTaughtSection(store.db, actor, readId(request.params.id));
    const roster = await listRoster(store.db, actor, section.id);
    const at = now();
    const students = (await floorOf(store.db, section, roster, at)).map((one) => ({
      ...one,
      words: STATE_WORDS[one.placed.state],
      needs: needsSomebody(one.placed.state),
      minutes:
        one.placed.since === null
          ? null
          : Math.max(0, Math.floor((Date.parse(at) - Date.parse(one.placed.since)) / 60_000)),
    }));
    const counts = Object.entries(STATE_WORDS).map(([state, words]) => ({
      ...{ state, words },
      count: students.filter(({ placed }) => placed.state === state).length,
    }));
    return reply.page(view, {
      title: `The floor: ${section.name}`,
      section,
      students,
      counts,
      scripts: ['floor.js'],
    });
  }
}
