import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { getTaughtSection } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest, NotFound } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { imageTypeOf } from '../web/image-type.ts';
import { mistakeClause, timeWords } from '../web/words/index.ts';
import { PinProblem, putEntries, signWithPin } from './assess.ts';
import { getSignOff, type SignOff } from './queries.ts';
import { readShopReading } from './reading.ts';
import { type Entry, entriesForm, READING_BOXES } from './schema.ts';
import { keptForm, readingOptions, signatureWords } from './shown.ts';
import { STEP_STATES } from './words.ts';
import { sign } from './write.ts';

const LAB = { config: { access: 'instructor', substitutes: true } } as const;
const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type BenchRequest = FastifyRequest<{ Params: { id: string; signOffId: string } }>;

/** One sign-off at the bench: ticks, readings, photos and signatures, sent as they come or with one button. */
export function benchRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();

  app.get('/sections/:id/sign-offs/:signOffId', LAB, async (request: BenchRequest, reply) =>
    benchPage(reply, await signOffAsked(request), null, {}),
  );

  app.post('/sections/:id/sign-offs/:signOffId/entries', LAB, async (request: BenchRequest, reply) => {
    const signOff = await signOffAsked(request);
    const read = entriesForm.safeParse(request.body);
    if (!read.success) throw new BadRequest();
    await putEntries(store, actorOf(request), signOff, read.data.entries, now());
    const { signatures, outcome } = await getSignOff(store.db, signOff.id);
    return reply.send({
      arrived: read.data.entries.map(({ clientId }) => clientId),
      signatures: signatures.map(({ role }) => role),
      against: outcome.against.map(({ text }) => text),
    });
  });

  // For a browser without our script: everything on the page with one button.
  app.post('/sections/:id/sign-offs/:signOffId/keep', LAB, async (request: BenchRequest, reply) => {
    const signOff = await signOffAsked(request);
    const { values } = readForm(keptForm, request.body);
    const typed = Object.fromEntries(READING_BOXES.map((name) => [name, values[name] ?? '']));
    const { problems } = readShopReading(typed, signOff.engine.unit);
    if (Object.keys(problems).length > 0) return benchPage(reply.code(422), signOff, values, problems);
    const sent = () => ({ clientId: randomUUID(), madeAt: now() });
    const ticks = signOff.steps.flatMap((step, index): Entry[] => {
      const state = STEP_STATES.find(({ value }) => value === values[`s${index}`])?.value;
      const note = (values[`n${index}`] ?? '').trim().slice(0, 300);
      if (state === undefined || (state === step.state && note === step.note)) return [];
      return [{ kind: 'tick', step: index, state, note, ...sent() }];
    });
    await putEntries(
      store,
      actorOf(request),
      signOff,
      [...ticks, { kind: 'reading', typed, ...sent() }],
      now(),
    );
    return reply.redirect(`${benchAt(signOff)}?said=sign-off-kept`, 303);
  });

  app.post('/sections/:id/sign-offs/:signOffId/sign', LAB, async (request: BenchRequest, reply) => {
    const signOff = await signOffAsked(request);
    const { pin = '', role = '' } = (request.body ?? {}) as Record<string, string>;
    if (role !== 'student' && role !== 'assessor') throw new BadRequest();
    try {
      const sent = { clientId: randomUUID(), madeAt: now() };
      await signWithPin(store, actorOf(request), signOff.id, { role, pin: String(pin), sent }, now());
    } catch (error) {
      if (!(error instanceof PinProblem)) throw error;
      return benchPage(reply.code(422), signOff, null, { [`pin-${role}`]: error.message });
    }
    return reply.redirect(`${benchAt(signOff)}?said=signed#signatures`, 303);
  });

  app.post(
    '/sections/:id/sign-offs/:signOffId/countersign',
    INSTRUCTOR,
    async (request: BenchRequest, reply) => {
      const signOff = await signOffAsked(request);
      const sent = { clientId: randomUUID(), madeAt: now() };
      await writeTransaction(store, (trx) =>
        sign(trx, signOff.id, {
          ...{ role: 'countersigned', personId: actorOf(request).id, outcome: null, sent, arrivedAt: now() },
        }),
      );
      return reply.redirect(`${benchAt(signOff)}?said=countersigned#signatures`, 303);
    },
  );

  app.post('/sections/:id/sign-offs/:signOffId/photos', LAB, async (request: BenchRequest, reply) => {
    const signOff = await signOffAsked(request);
    const { file, step } = (request.body ?? {}) as { file?: unknown; step?: unknown };
    const type = file instanceof Uint8Array ? imageTypeOf(file) : null;
    if (!(file instanceof Uint8Array) || type === null)
      return benchPage(reply.code(422), signOff, null, {
        photo: 'Choose a picture: PNG, JPEG or WebP, at most 1 MB.',
      });
    const at = Number(step);
    await writeTransaction(store, async (trx) => {
      await trx
        .insertInto('sign_off_photos')
        .values({
          sign_off_id: signOff.id,
          step: Number.isInteger(at) && at >= 0 && at < signOff.steps.length && step !== '' ? at : null,
          type,
          bytes: Buffer.from(file),
          person_id: actorOf(request).id,
          at: now(),
        })
        .execute();
    });
    return reply.redirect(`${benchAt(signOff)}?said=photo-kept#photos`, 303);
  });

  app.get<{ Params: { id: string; signOffId: string; photoId: string } }>(
    '/sections/:id/sign-offs/:signOffId/photos/:photoId',
    LAB,
    async (request, reply) => {
      const signOff = await signOffAsked(request);
      const photo = await store.db
        .selectFrom('sign_off_photos')
        .where('id', '=', readId(request.params.photoId))
        .where('sign_off_id', '=', signOff.id)
        .select(['type', 'bytes'])
        .executeTakeFirst();
      if (!photo) throw new NotFound();
      return reply.type(photo.type).header('content-disposition', 'inline').send(Buffer.from(photo.bytes));
    },
  );

  async function signOffAsked(request: BenchRequest): Promise<SignOff> {
    const section = await getTaughtSection(store.db, actorOf(request), readId(request.params.id));
    const signOff = await getSignOff(store.db, request.params.signOffId);
    if (signOff.sectionId !== section.id) throw new NotFound();
    return signOff;
  }

  async function benchPage(reply: FastifyReply, signOff: SignOff, typed: Values | null, problems: Problems) {
    return reply.page('sign-offs/bench', {
      title: `${signOff.student.name}, engine ${signOff.engine.number}`,
      ...{ signOff, problems, states: STEP_STATES, options: readingOptions() },
      base: benchAt(signOff),
      mistake: signOff.graded.mistake === null ? null : mistakeClause(signOff.graded.mistake),
      values: typed ?? signOff.typed,
      startedWhen: timeWords(signOff.startedAt),
      signed: signOff.signatures.map(signatureWords),
      toCountersign: signOff.signatures.some(({ role, substitute }) => role === 'assessor' && substitute),
      scripts: ['sign-off.js'],
    });
  }
}

function benchAt({ sectionId, id }: SignOff): string {
  return `/sections/${sectionId}/sign-offs/${id}`;
}
