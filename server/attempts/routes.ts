import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import {
  type AnyAction,
  type AnyBench,
  brief,
  ENGINE_VERSION,
  gradeAttempt,
  type KindName,
} from '../engine/index.ts';
import { deskOf, onlyOwnBoxes, readBoxes } from '../kinds/index.ts';
import { getAssignedItem } from '../labsheets/index.ts';
import { loadGradedAttempt } from '../review/index.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest, Conflict } from '../web/errors.ts';
import { type Problems, readId } from '../web/forms.ts';
import { appendActions } from './append-actions.ts';
import { checkSoFar, type HelpAnswer, nextStep } from './check.ts';
import { benchOf, type Folded, FoldedAttempts } from './folded.ts';
import { blankWords, type LookOverPage, lookOverParts } from './look-over.ts';
import { perceived } from './perceived.ts';
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
import { benchView } from './views.ts';

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
    const { bench } = await attempts.get(attempt);
    const body = actionsBody(bench.kind).safeParse(request.body);
    if (!body.success) throw new BadRequest('These actions could not be read. Reload the page.');
    // Through JSON once, so that what is folded now is letter for letter what is folded again from the log.
    const actions = JSON.parse(JSON.stringify(body.data.actions)) as AnyAction[];
    const { seen, next, before } = await appendActions(
      store,
      attempts,
      attempt,
      { from: body.data.from, actions },
      now(),
    );
    return reply.send({ next, seen: perceived(before, actions, seen, attempt.way) });
  });

  app.post<AttemptParams>('/attempts/:id/draft', STUDENT, async (request, reply) => {
    const attempt = await openAttempt(request);
    const body = draftBody.safeParse(request.body);
    if (!body.success)
      throw new BadRequest('The sheet could not be read, so it was not saved. Reload the page.');
    const typed = ownBoxes(benchOf(attempt), body.data.typed);
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
    const typed = ownBoxes(folded.bench, sent.data);
    await writeTransaction(store, (trx) => saveDraft(trx, attempt.id, typed, now()));
    const { problems } = readSheet(folded.bench, typed);
    if (Object.keys(problems).length > 0) return benchPage(reply.code(422), attempt, folded, typed, problems);
    return reply.redirect(`/attempts/${attempt.id}/hand-in`, 303);
  });

  /** Answers a student who asks for help in practice: what is typed is kept first. A page without script gets the whole page again. */
  const help =
    (
      answer: (
        bench: AnyBench,
        actions: readonly AnyAction[],
        read: ReturnType<typeof readSheet>,
      ) => HelpAnswer,
    ) =>
    async (request: FastifyRequest<AttemptParams>, reply: FastifyReply) => {
      const attempt = await openAttempt(request);
      if (attempt.way !== 'practice')
        throw new Conflict(
          'Help is for practice. In a graded run nothing is told before the sheet is handed in.',
        );
      if (attempt.hints === 0) throw new Conflict('Your instructor has left help off for this item.');
      const { _csrf, ...boxes } = (request.body ?? {}) as Record<string, unknown>;
      const byScript = request.headers['content-type']?.startsWith('application/json') ?? false;
      const sent = draftBody.safeParse(byScript ? boxes : { typed: boxes });
      if (!sent.success) throw new BadRequest('The sheet could not be read. Reload the page.');
      const folded = await attempts.get(attempt);
      const typed = ownBoxes(folded.bench, sent.data.typed);
      await writeTransaction(store, (trx) => saveDraft(trx, attempt.id, typed, now()));
      const read = readSheet(folded.bench, typed);
      const told = answer(folded.bench, await listActions(store.db, attempt.id), read);
      if (byScript) return reply.send(told);
      return benchPage(reply, attempt, folded, typed, read.problems, told);
    };
  app.post<AttemptParams>(
    '/attempts/:id/check',
    STUDENT,
    help((bench, actions, { sheet, filled }) => checkSoFar(bench, actions, sheet, filled)),
  );
  app.post<AttemptParams>(
    '/attempts/:id/hint',
    STUDENT,
    help((bench, actions, { sheet }) => nextStep(bench, actions, sheet)),
  );

  app.get<AttemptParams>('/attempts/:id/hand-in', STUDENT, async (request, reply) => {
    const attempt = await openAttempt(request);
    const bench = benchOf(attempt);
    const typed = await findDraft(store.db, attempt.id);
    const { form, problems, blank } = readSheet(bench, typed);
    if (Object.keys(problems).length > 0) return reply.redirect(`/attempts/${attempt.id}`, 303);
    const view: LookOverPage = {
      title: 'Look it over',
      attempt,
      parts: lookOverParts(form, typed),
      blanks: blankWords(form, blank),
      specification: deskOf<KindName>(bench.kind).specification(brief(bench)),
    };
    return reply.page('attempts/look-over', view);
  });

  app.post<AttemptParams>('/attempts/:id/hand-in', STUDENT, async (request, reply) => {
    const attempt = await openAttempt(request);
    const typed = await findDraft(store.db, attempt.id);
    const bench = benchOf(attempt);
    const { sheet, problems } = readSheet(bench, typed);
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
  problems: Problems,
  help: HelpAnswer | null = null,
): FastifyReply {
  return reply.page('attempts/bench', { ...benchView(attempt, folded, typed, problems), help });
}

/** The lab sheet of an attempt's bench, read: what was typed as the engine grades it, and what could not be read. */
function readSheet(bench: AnyBench, typed: TypedSheet) {
  const plate = brief(bench);
  const desk = deskOf<KindName>(plate.kind);
  const form = desk.form(plate);
  const { boxes, problems, blank } = readBoxes(form, typed);
  const filled = Object.entries(typed).filter(
    ([name, text]) => text.trim() !== '' && problems[name] === undefined,
  ).length;
  return { sheet: desk.sheet(plate, boxes), form, problems, blank, filled };
}

function ownBoxes(bench: AnyBench, typed: TypedSheet): TypedSheet {
  const plate = brief(bench);
  return onlyOwnBoxes(deskOf<KindName>(plate.kind).form(plate), typed);
}
