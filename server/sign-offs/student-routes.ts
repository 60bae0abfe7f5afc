import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest, NotFound } from '../web/errors.ts';
import { type Problems, readForm, type Values } from '../web/forms.ts';
import { mistakeClause, timeWords } from '../web/words/index.ts';
import { getSignOff, type SignOff } from './queries.ts';
import { readShopReading } from './reading.ts';
import { READING_BOXES } from './schema.ts';
import { keptForm, readingOptions, signatureWords } from './shown.ts';
import { putReading, putTicks } from './write.ts';

const STUDENT = { config: { access: 'student' } } as const;
type OwnRequest = FastifyRequest<{ Params: { id: string } }>;

const markForm = z.object({
  step: z.coerce.number().int().min(0).max(99),
  state: z.enum(['done', 'ready']),
});

/** A student's own sign-off: what they have done, that they are ready, what they read. Never the reference. */
export function studentRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();
  const sent = () => ({ clientId: randomUUID(), madeAt: now() });

  app.get('/sign-offs/:id', STUDENT, async (request: OwnRequest, reply) =>
    ownPage(reply, await ownSignOff(request), null, {}),
  );

  app.post('/sign-offs/:id/marks', STUDENT, async (request: OwnRequest, reply) => {
    const signOff = await ownSignOff(request);
    const form = readForm(markForm, request.body);
    const step = form.ok ? signOff.steps[form.value.step] : undefined;
    if (!form.ok || step === undefined) throw new BadRequest();
    const tick = { ...form.value, note: '', ...sent() };
    await writeTransaction(store, (trx) => putTicks(trx, actorOf(request), signOff.id, [tick], now()));
    return reply.redirect(`/sign-offs/${signOff.id}#step-${form.value.step}`, 303);
  });

  app.post('/sign-offs/:id/reading', STUDENT, async (request: OwnRequest, reply) => {
    const signOff = await ownSignOff(request);
    const { values } = readForm(keptForm, request.body);
    const typed = Object.fromEntries(READING_BOXES.map((name) => [name, values[name] ?? '']));
    const { problems } = readShopReading(typed, signOff.engine.unit);
    if (Object.keys(problems).length > 0) return ownPage(reply.code(422), signOff, typed, problems);
    await writeTransaction(store, (trx) =>
      putReading(trx, actorOf(request), signOff.id, typed, sent(), now()),
    );
    return reply.redirect(`/sign-offs/${signOff.id}?said=reading-kept#reading`, 303);
  });

  async function ownSignOff(request: OwnRequest): Promise<SignOff> {
    const signOff = await getSignOff(store.db, request.params.id);
    if (signOff.student.id !== actorOf(request).id) throw new NotFound();
    return signOff;
  }

  function ownPage(reply: FastifyReply, signOff: SignOff, typed: Values | null, problems: Problems) {
    const { signed, graded, steps } = signOff;
    // What would tell the reference stays here: it is what the next student has to find.
    const mistake = signed !== null && graded.mistake !== null ? mistakeClause(graded.mistake) : null;
    return reply.page('sign-offs/own', {
      title: signOff.itemTitle,
      head: {
        ...{ id: signOff.id, position: signOff.position, unit: signOff.engine.unit },
        ...{ engine: signOff.engine.name, number: signOff.engine.number, barring: signOff.engine.barring },
        ...{ source: signOff.engine.source, torques: signOff.engine.torques, barredBy: signOff.barredBy },
        started: timeWords(signOff.startedAt),
      },
      steps: steps.map(({ text, hold, alone, mark, waiting, state }) => ({
        ...{ text, hold, alone, mark, waiting, seen: state !== null },
      })),
      ...{ signed, mistake, problems, values: typed ?? signOff.typed, options: readingOptions() },
      signatures: signOff.signatures.map(signatureWords),
    });
  }
}
