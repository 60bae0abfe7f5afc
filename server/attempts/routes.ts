import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { crankSvg, dialSvg, effortSvg } from '../../views/drawing/index.ts';
import { writeTransaction } from '../database/transaction.ts';
import { brief, type CamLiftAction, ENGINE_VERSION, gradeAttempt, lookAt } from '../engine/index.ts';
import { getAssignedItem } from '../labsheets/index.ts';
import { loadGradedAttempt } from '../review/index.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest, Conflict } from '../web/errors.ts';
import { readId } from '../web/forms.ts';
import { perceptionWords } from '../web/words/perceptions.ts';
import { appendActions } from './append-actions.ts';
import { benchOf, type Folded, FoldedAttempts } from './folded.ts';
import {
  appendHandIn,
  beginAttempt,
  findDraft,
  getOwnAttempt,
  getOwnOpenAttempt,
  listActions,
  type OwnAttempt,
  saveDraft,
} from './queries.ts';
import { actionsBody, draftBody, type TypedSheet, typedSheet } from './schema.ts';
import { onlyOwnBoxes, readSheet } from './sheet.ts';
import {
  type BenchPage,
  blankWords,
  type LookOverPage,
  lobeViews,
  lookOverLobes,
  specificationWords,
} from './views.ts';

const STUDENT = { config: { access: 'student' } } as const;

interface AttemptParams {
  Params: { id: string };
}

export function attemptsRoutes(app: FastifyInstance): void {
  const { store } = app;
  const attempts = new FoldedAttempts(store);
  const now = () => app.clock().toISOString();
  const openAttempt = (request: FastifyRequest<AttemptParams>) =>
    getOwnOpenAttempt(store.db, actorOf(request), request.params.id);

  app.post<{ Params: { itemId: string }; Body: { sectionId?: string } | undefined }>(
    '/items/:itemId/attempts',
    STUDENT,
    async (request, reply) => {
      const actor = actorOf(request);
      const sectionId = request.body?.sectionId;
      const assigned = await getAssignedItem(
        store.db,
        actor,
        readId(request.params.itemId),
        sectionId === undefined ? undefined : readId(sectionId),
      );
      const fresh = { id: randomUUID(), seed: app.newSeed(), engineVersion: ENGINE_VERSION, at: now() };
      const id = await writeTransaction(store, (trx) => beginAttempt(trx, actor, assigned, fresh));
      return reply.redirect(`/attempts/${id}`, 303);
    },
  );

  app.get<AttemptParams>('/attempts/:id', STUDENT, async (request, reply) => {
    const attempt = await getOwnAttempt(store.db, actorOf(request), request.params.id);
    if (attempt.handedInAt !== null) return reply.redirect(`/attempts/${attempt.id}/result`, 303);
    const folded = await attempts.get(attempt);
    attempts.keep(attempt.id, folded);
    return benchPage(reply, attempt, folded, await findDraft(store.db, attempt.id), {});
  });

  app.post<AttemptParams>('/attempts/:id/actions', STUDENT, async (request, reply) => {
    const attempt = await openAttempt(request);
    const body = actionsBody.safeParse(request.body);
    if (!body.success) throw new BadRequest('These actions could not be read. Reload the page.');
    // Through JSON once, so that what is folded now is letter for letter what is folded again from the log.
    const actions = JSON.parse(JSON.stringify(body.data.actions)) as CamLiftAction[];
    const { seen, next } = await appendActions(
      store,
      attempts,
      attempt,
      { from: body.data.from, actions },
      now(),
    );
    return reply.send({ next, seen: seen.map((one) => ({ ...one, words: one.said.map(perceptionWords) })) });
  });

  app.post<AttemptParams>('/attempts/:id/draft', STUDENT, async (request, reply) => {
    const attempt = await openAttempt(request);
    const body = draftBody.safeParse(request.body);
    if (!body.success)
      throw new BadRequest('The sheet could not be read, so it was not saved. Reload the page.');
    const typed = onlyOwnBoxes(brief(benchOf(attempt)), body.data.typed);
    const at = now();
    await writeTransaction(store, (trx) => saveDraft(trx, attempt.id, typed, at));
    return reply.send({ savedAt: at });
  });

  app.post<AttemptParams>('/attempts/:id/look-over', STUDENT, async (request, reply) => {
    const attempt = await openAttempt(request);
    const folded = await attempts.get(attempt);
    const { _csrf, ...boxes } = (request.body ?? {}) as Record<string, string>;
    const sent = typedSheet.safeParse(boxes);
    if (!sent.success) throw new BadRequest('A box holds more than can be kept. Shorten it and try again.');
    const typed = onlyOwnBoxes(brief(folded.bench), sent.data);
    await writeTransaction(store, (trx) => saveDraft(trx, attempt.id, typed, now()));
    const { problems } = readSheet(brief(folded.bench), typed);
    if (Object.keys(problems).length > 0) return benchPage(reply.code(422), attempt, folded, typed, problems);
    return reply.redirect(`/attempts/${attempt.id}/hand-in`, 303);
  });

  app.get<AttemptParams>('/attempts/:id/hand-in', STUDENT, async (request, reply) => {
    const attempt = await openAttempt(request);
    const plate = brief(benchOf(attempt));
    const typed = await findDraft(store.db, attempt.id);
    const { problems, blank } = readSheet(plate, typed);
    if (Object.keys(problems).length > 0) return reply.redirect(`/attempts/${attempt.id}`, 303);
    const view: LookOverPage = {
      title: 'Look it over',
      attempt,
      lobes: lookOverLobes(plate, typed),
      blanks: blankWords(plate, blank),
      specification: specificationWords(plate),
    };
    return reply.page('attempts/look-over', view);
  });

  app.post<AttemptParams>('/attempts/:id/hand-in', STUDENT, async (request, reply) => {
    const attempt = await openAttempt(request);
    const typed = await findDraft(store.db, attempt.id);
    const bench = benchOf(attempt);
    const { sheet, problems } = readSheet(brief(bench), typed);
    if (Object.keys(problems).length > 0)
      throw new Conflict('A box on the sheet cannot be read. Go back to it and mend it first.');
    const actions = await listActions(store.db, attempt.id);
    const grade = gradeAttempt(bench, actions, sheet);
    await writeTransaction(store, (trx) =>
      appendHandIn(trx, attempt.id, { typed, sheet, actionCount: actions.length, grade, at: now() }),
    );
    attempts.forget(attempt.id);
    return reply.redirect(`/attempts/${attempt.id}/result`, 303);
  });

  app.get<AttemptParams>('/attempts/:id/result', STUDENT, async (request, reply) => {
    const attempt = await getOwnAttempt(store.db, actorOf(request), request.params.id);
    if (attempt.handedInAt === null) return reply.redirect(`/attempts/${attempt.id}`, 303);
    const graded = await loadGradedAttempt(store.db, attempt.id);
    return reply.page('attempts/result', { title: 'Result', scripts: ['replay.js'], attempt, graded });
  });
}

/** The bench as its student sees it. Nothing of the bench but its brief and its view goes into the page. */
function benchPage(
  reply: FastifyReply,
  attempt: OwnAttempt,
  folded: Folded,
  typed: TypedSheet,
  problems: Record<string, string>,
): FastifyReply {
  const plate = brief(folded.bench);
  const view = lookAt(folded.bench, folded.state);
  const { sample } = view;
  const page: BenchPage = {
    title: plate.engineName,
    wide: true,
    scripts: ['practice.js'],
    attempt,
    brief: plate,
    view,
    next: folded.next,
    lobes: lobeViews(plate, typed, problems),
    problems,
    specification: specificationWords(plate),
    dialSvg: dialSvg(
      {
        dial: plate.dial,
        pointer: sample.pointer,
        counter: sample.counter,
        faceTurn: view.faceTurn,
        clamped: view.clamped,
        plungerMm: sample.plungerMm,
        indicator: view.indicator,
      },
      { id: 'dial', title: 'Dial indicator' },
    ),
    crankSvg: crankSvg(
      { crankDeg: sample.crankDeg },
      { id: 'crank', title: 'Crank, by the mark on the damper' },
    ),
    effortSvg: effortSvg({ effort: sample.effort }, { id: 'effort', title: 'Effort on the bar' }),
  };
  return reply.page('attempts/bench', page);
}
