import type { FastifyInstance, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { dueFor, giveFurtherTry, isClosed, listAssignments, listExtensions } from '../labsheets/index.ts';
import { getTaughtSection } from '../sections/index.ts';
import { listSignOffs } from '../sign-offs/index.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest } from '../web/errors.ts';
import { readForm, readId } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import { appendComment, appendLook } from './comments.ts';
import { listDisagreements } from './disagreements.ts';
import { placeInQueue, type QueueRow } from './queue.ts';
import { listQueue } from './queue-queries.ts';
import { type AttemptRequest, attemptAsked, reviewPage } from './review-page.ts';
import { commentForm, type QueuePage } from './schema.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;

/** What of a section wants a person, and going from one to the next. */
export function queueRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/sections/:id/review', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await getTaughtSection(store.db, actorOf(request), readId(request.params.id));
    const rows = await listQueue(store.db, section.id);
    const said = await listDisagreements(store.db, section.id);
    const shown = (row: QueueRow) => ({
      ...row,
      handedInWhen: timeWords(row.attempt.handedInAt ?? ''),
      said: said.filter((one) => one.attemptId === row.attempt.id && (row.settled || !one.answered)),
    });
    const settled = rows.filter((row) => row.settled);
    const view: QueuePage = {
      title: `Review: ${section.name}`,
      wide: true,
      section,
      waiting: rows.filter((row) => !row.settled).map(shown),
      settled: settled
        .sort((one, other) => ((one.attempt.handedInAt ?? '') < (other.attempt.handedInAt ?? '') ? 1 : -1))
        .map(shown),
      toCountersign: (await listSignOffs(store.db, section.id)).filter(({ toCountersign }) => toCountersign)
        .length,
    };
    return reply.page('review/queue', view);
  });

  // Where the disagreements alone used to be listed.
  app.get('/sections/:id/disagreements', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await getTaughtSection(store.db, actorOf(request), readId(request.params.id));
    return reply.redirect(`/sections/${section.id}/review`, 301);
  });

  app.post(
    '/sections/:sectionId/attempts/:attemptId/looks',
    INSTRUCTOR,
    async (request: AttemptRequest, reply) => {
      const { section, graded, queue } = await attemptAsked(store.db, request);
      const at = app.clock().toISOString();
      const { nextId } = placeInQueue(queue, graded.id);
      await writeTransaction(store, (trx) =>
        appendLook(trx, { attemptId: graded.id, by: actorOf(request).id, at }),
      );
      return reply.redirect(
        nextId === null
          ? `/sections/${section.id}/review?said=queue-done`
          : `/sections/${section.id}/attempts/${nextId}`,
        303,
      );
    },
  );

  app.post(
    '/sections/:sectionId/attempts/:attemptId/comments',
    INSTRUCTOR,
    async (request: AttemptRequest, reply) => {
      const asked = await attemptAsked(store.db, request);
      const { section, graded } = asked;
      const form = readForm(commentForm, request.body);
      if (!form.ok) {
        if (form.problems.gives !== undefined) throw new BadRequest('Say whether another try is given.');
        const { comment = '' } = form.values;
        return reviewPage(reply.code(422), asked, { values: { comment }, problems: form.problems });
      }
      const at = app.clock().toISOString();
      const said = { attemptId: graded.id, by: actorOf(request).id, at };
      const { comment, gives } = form.value;
      const back = `/sections/${section.id}/attempts/${graded.id}`;
      if (gives === 'nothing') {
        await writeTransaction(store, (trx) => appendComment(trx, { ...said, words: comment }));
        return reply.redirect(`${back}?said=comment-kept#comments`, 303);
      }
      if (!graded.triesLimited)
        throw new BadRequest('There are as many tries as wanted at this item already.');
      await writeTransaction(store, (trx) => giveFurtherTry(trx, { ...said, reason: comment }));
      const closed = await isClosedFor(section.id, graded.sheetId, graded.student.id, at);
      return reply.redirect(`${back}?said=${closed ? 'try-given-closed' : 'try-given'}#comments`, 303);
    },
  );

  async function isClosedFor(sectionId: number, sheetId: number, studentId: number, now: string) {
    const assigned = (await listAssignments(store.db, sectionId)).find((one) => one.sheetId === sheetId);
    if (assigned === undefined) return false;
    const extra = (await listExtensions(store.db, sectionId, sheetId)).get(studentId);
    return isClosed(dueFor(assigned, extra), now);
  }
}
