import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { writeTransaction } from '../database/transaction.ts';
import { convertLength, parseLength } from '../engine/index.ts';
import { actorOf } from '../web/access.ts';
import { Conflict } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import { engineValues, readEngine } from './engine-form.ts';
import {
  archiveEngine,
  getEngine,
  keepEngine,
  keepReference,
  listEngines,
  listReferences,
  noteWork,
  type ShopEngine,
} from './engines.ts';
import { fitnessOf, listGauges } from './gauges.ts';
import { REFERENCE_WORDS } from './words.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type EngineRequest = FastifyRequest<{ Params: { id: string } }>;

const anything = z.record(z.string(), z.unknown());
const workForm = z.object({
  what: z.string().trim().min(1, 'Write what was done.').max(200, 'Write at most 200 letters.'),
});

export function engineRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();
  const engineAsked = (request: EngineRequest) => getEngine(store.db, readId(request.params.id));

  app.get('/shop', INSTRUCTOR, async (_request, reply) => {
    const day = now().slice(0, 10);
    const engines = await Promise.all(
      (await listEngines(store.db)).map(async (engine) => ({
        ...engine,
        lobesKnown: (await listReferences(store.db, engine, now())).filter(({ state }) => state === 'holds')
          .length,
      })),
    );
    const gauges = (await listGauges(store.db)).map((gauge) => ({
      ...gauge,
      fitness: fitnessOf(gauge, day),
    }));
    return reply.page('shop/shop', { title: 'Shop', engines, gauges });
  });

  app.get('/shop/engines/new', INSTRUCTOR, async (_request, reply) =>
    reply.page('shop/new-engine', { title: 'New engine', values: { unit: 'in', pumps: '6' }, problems: {} }),
  );

  app.post('/shop/engines', INSTRUCTOR, async (request, reply) => {
    const { values } = readForm(anything, request.body);
    const { content, problems } = readEngine(values);
    const refuse = (wrong: Problems) =>
      reply.code(422).page('shop/new-engine', { title: 'New engine', values, problems: wrong });
    if (Object.keys(problems).length > 0) return refuse(problems);
    try {
      const id = await writeTransaction(store, (trx) =>
        keepEngine(trx, actorOf(request), { id: null, content, at: now() }),
      );
      return reply.redirect(`/shop/engines/${id}?said=engine-kept`, 303);
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return refuse({ number: error.message });
    }
  });

  app.get('/shop/engines/:id', INSTRUCTOR, async (request: EngineRequest, reply) => {
    const engine = await engineAsked(request);
    return enginePage(reply, engine, engineValues(engine), {});
  });

  app.post('/shop/engines/:id', INSTRUCTOR, async (request: EngineRequest, reply) => {
    const engine = await engineAsked(request);
    const { values } = readForm(anything, request.body);
    const { content, problems } = readEngine(values);
    if (Object.keys(problems).length > 0) return enginePage(reply.code(422), engine, values, problems);
    try {
      await writeTransaction(store, (trx) =>
        keepEngine(trx, actorOf(request), { id: engine.id, content, at: now() }),
      );
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return enginePage(reply.code(422), engine, values, { number: error.message });
    }
    return reply.redirect(`/shop/engines/${engine.id}?said=engine-kept`, 303);
  });

  app.post('/shop/engines/:id/archive', INSTRUCTOR, async (request: EngineRequest, reply) => {
    const engine = await engineAsked(request);
    await writeTransaction(store, (trx) =>
      archiveEngine(trx, engine.id, engine.archivedAt === null ? now() : null),
    );
    return reply.redirect('/shop', 303);
  });

  app.post('/shop/engines/:id/work', INSTRUCTOR, async (request: EngineRequest, reply) => {
    const engine = await engineAsked(request);
    const form = readForm(workForm, request.body);
    if (!form.ok)
      return enginePage(reply.code(422), engine, { ...engineValues(engine), ...form.values }, form.problems);
    await writeTransaction(store, (trx) =>
      noteWork(trx, actorOf(request), { engineId: engine.id, what: form.value.what, at: now() }),
    );
    return reply.redirect(`/shop/engines/${engine.id}?said=work-noted`, 303);
  });

  app.post('/shop/engines/:id/references', INSTRUCTOR, async (request: EngineRequest, reply) => {
    const engine = await engineAsked(request);
    const { values } = readForm(anything, request.body);
    const problems: Problems = {};
    const position = Number(values.position);
    if (!(Number.isInteger(position) && position >= 1 && position <= engine.pumps))
      problems.position = 'Choose a pump position.';
    const readings = ['first', 'second', 'third'].map((name) => {
      const read = parseLength(values[name] ?? '', engine.unit, engine.unit === 'in' ? 2 : 50);
      if (read.ok && read.value !== null && read.value > 0) return read.value;
      problems[name] = `Write the lift in ${engine.unit}.`;
      return 0;
    });
    const gauge = (await listGauges(store.db)).find(({ id }) => String(id) === values.gauge);
    const fitness = gauge === undefined ? null : fitnessOf(gauge, now().slice(0, 10));
    if (fitness?.use === 'block') problems.gauge = `${fitness.why} Take another gauge.`;
    const [first = 0, second = 0, third = 0] = readings;
    if (Object.keys(problems).length > 0)
      return enginePage(reply.code(422), engine, { ...engineValues(engine), ...values }, problems);
    await writeTransaction(store, (trx) =>
      keepReference(trx, actorOf(request), {
        ...{ engineId: engine.id, position, unit: engine.unit, readings: [first, second, third] },
        ...{ gaugeId: gauge?.id ?? null, at: now() },
      }),
    );
    return reply.redirect(`/shop/engines/${engine.id}?said=reference-kept`, 303);
  });

  async function enginePage(reply: FastifyReply, engine: ShopEngine, values: Values, problems: Problems) {
    const other = engine.unit === 'in' ? ('mm' as const) : ('in' as const);
    const digits = { in: 4, mm: 3 } as const;
    const both = (length: number) =>
      `${length} ${engine.unit} (${convertLength(length, engine.unit, other).toFixed(digits[other])} ${other})`;
    return reply.page('shop/engine', {
      title: engine.name,
      engine,
      limits: {
        nominal: engine.nominal === null ? null : both(engine.nominal),
        lower: engine.lower === null ? null : both(engine.lower),
        upper: engine.upper === null ? null : both(engine.upper),
      },
      lobes: (await listReferences(store.db, engine, now())).map(({ position, reference, state }) => ({
        ...{ position, state },
        words: REFERENCE_WORDS[state],
        mean: reference?.mean.toFixed(digits[engine.unit]) ?? null,
        spread: reference?.spread.toFixed(digits[engine.unit]) ?? null,
        expanded: reference?.expanded.toFixed(digits[engine.unit]) ?? null,
        when: reference === null ? null : timeWords(reference.at),
      })),
      indicators: (await listGauges(store.db)).filter(
        ({ kind, archivedAt }) => kind === 'indicator' && archivedAt === null,
      ),
      values,
      problems,
    });
  }
}
