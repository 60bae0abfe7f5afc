import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf } from '../web/access.ts';
import { Conflict } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import {
  archiveGauge,
  checkForm,
  fitnessOf,
  gaugeForm,
  getGauge,
  keepGauge,
  listChecks,
  noteCheck,
  type ShopGauge,
} from './gauges.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type GaugeRequest = FastifyRequest<{ Params: { id: string } }>;

export function gaugeRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();
  const gaugeAsked = (request: GaugeRequest) => getGauge(store.db, readId(request.params.id));

  app.get('/shop/gauges/new', INSTRUCTOR, async (_request, reply) =>
    newPage(reply, { kind: 'indicator', unit: 'in', graduation: '0.001', whenOverdue: 'warn' }, {}),
  );

  app.post('/shop/gauges', INSTRUCTOR, async (request, reply) => {
    const form = readForm(gaugeForm, request.body);
    if (!form.ok) return newPage(reply.code(422), form.values, form.problems);
    try {
      const id = await writeTransaction(store, (trx) =>
        keepGauge(trx, actorOf(request), null, form.value, now()),
      );
      return reply.redirect(`/shop/gauges/${id}?said=gauge-kept`, 303);
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return newPage(reply.code(422), form.values, { number: error.message });
    }
  });

  app.get('/shop/gauges/:id', INSTRUCTOR, async (request: GaugeRequest, reply) => {
    const gauge = await gaugeAsked(request);
    return gaugePage(reply, gauge, gaugeValues(gauge), {});
  });

  app.post('/shop/gauges/:id', INSTRUCTOR, async (request: GaugeRequest, reply) => {
    const gauge = await gaugeAsked(request);
    const form = readForm(gaugeForm, request.body);
    if (!form.ok) return gaugePage(reply.code(422), gauge, form.values, form.problems);
    try {
      await writeTransaction(store, (trx) => keepGauge(trx, actorOf(request), gauge.id, form.value, now()));
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return gaugePage(reply.code(422), gauge, form.values, { number: error.message });
    }
    return reply.redirect(`/shop/gauges/${gauge.id}?said=gauge-kept`, 303);
  });

  app.post('/shop/gauges/:id/archive', INSTRUCTOR, async (request: GaugeRequest, reply) => {
    const gauge = await gaugeAsked(request);
    await writeTransaction(store, (trx) =>
      archiveGauge(trx, gauge.id, gauge.archivedAt === null ? now() : null),
    );
    return reply.redirect('/shop', 303);
  });

  app.post('/shop/gauges/:id/checks', INSTRUCTOR, async (request: GaugeRequest, reply) => {
    const gauge = await gaugeAsked(request);
    const form = readForm(checkForm, request.body);
    if (!form.ok)
      return gaugePage(reply.code(422), gauge, { ...gaugeValues(gauge), ...form.values }, form.problems);
    await writeTransaction(store, (trx) => noteCheck(trx, actorOf(request), gauge.id, form.value, now()));
    return reply.redirect(`/shop/gauges/${gauge.id}?said=check-noted`, 303);
  });

  function newPage(reply: FastifyReply, values: Values, problems: Problems) {
    return reply.page('shop/new-gauge', { title: 'New gauge or wrench', values, problems });
  }

  async function gaugePage(reply: FastifyReply, gauge: ShopGauge, values: Values, problems: Problems) {
    const checks = await listChecks(store.db, gauge.id);
    return reply.page('shop/gauge', {
      title: `${gauge.what}, ${gauge.number}`,
      ...{ gauge, values, problems },
      fitness: fitnessOf(gauge, now().slice(0, 10)),
      checks: checks.map((one) => ({ ...one, by: `${one.given_name} ${one.family_name}` })),
    });
  }
}

function gaugeValues(gauge: ShopGauge): Values {
  return {
    kind: gauge.kind,
    number: gauge.number,
    what: gauge.what,
    graduation: gauge.graduation === null ? '' : String(gauge.graduation),
    unit: gauge.unit ?? 'in',
    whenOverdue: gauge.whenOverdue,
  };
}
