import type { FastifyInstance } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import type { Criterion } from '../engine/index.ts';
import { listSectionItems } from '../labsheets/index.ts';
import { getTaughtSection, getTaughtStudent } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest } from '../web/errors.ts';
import { type Problems, readForm, readId } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import { appendAnswer, appendDisagreement, getOwnGrade, isIn, readRef } from './disagreements.ts';
import { type GradedAttempt, loadGradedAttempt } from './graded-attempt.ts';
import { appendChange } from './queries.ts';
import { attemptAsked, reviewPage } from './review-page.ts';
import {
  type AttemptRowView,
  answerForm,
  changeForm,
  disagreementForm,
  type ResultPage,
  type StudentItemView,
  type StudentPage,
} from './schema.ts';
import { type FollowedAttempt, listAttemptsOfStudent } from './summaries.ts';

const STUDENT = { config: { access: 'student' } } as const;
const INSTRUCTOR = { config: { access: 'instructor' } } as const;

interface AttemptParams {
  Params: { sectionId: string; attemptId: string };
}

export function reviewRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get<{ Params: { id: string; studentId: string } }>(
    '/sections/:id/students/:studentId',
    INSTRUCTOR,
    async (request, reply) => {
      const actor = actorOf(request);
      const section = await getTaughtSection(store.db, actor, readId(request.params.id));
      const student = await getTaughtStudent(store.db, actor, section.id, readId(request.params.studentId));
      const items = await listSectionItems(store.db, section.id);
      const attempts = await listAttemptsOfStudent(store.db, section.id, student.id);
      const name = `${student.given_name} ${student.family_name}`;
      const view: StudentPage = {
        title: name,
        section,
        student: { id: student.id, name, number: student.student_number },
        items: items.flatMap((item) => studentItem(item, attempts)),
      };
      return reply.page('review/student', view);
    },
  );

  app.get<AttemptParams>('/sections/:sectionId/attempts/:attemptId', INSTRUCTOR, async (request, reply) => {
    return reviewPage(reply, await attemptAsked(store.db, request));
  });

  app.post<AttemptParams>(
    '/sections/:sectionId/attempts/:attemptId/changes',
    INSTRUCTOR,
    async (request, reply) => {
      const asked = await attemptAsked(store.db, request);
      const { section, graded } = asked;
      const form = readForm(changeForm(outOfEach(graded)), request.body);
      const refuse = (problems: Problems) =>
        reviewPage(reply.code(422), asked, { values: form.values, problems });
      if (!form.ok) return refuse(form.problems);
      const { reason, seen, answers, ...points } = form.value;
      if (seen !== (graded.changes[0]?.id ?? 0)) {
        return refuse({
          setUp:
            'The points were changed while this page was open. Look at the new points above, then send yours again.',
        });
      }
      const same = graded.points.rows.every((row) => row.points === points[row.criterion]);
      if (same) return refuse({ setUp: 'These are the points as they stand. Change at least one of them.' });
      const change = {
        attemptId: graded.id,
        points,
        reason,
        seen,
        by: actorOf(request).id,
        at: app.clock().toISOString(),
      };
      await writeTransaction(store, async (trx) => {
        await appendChange(trx, change);
        const { attemptId, by, at } = change;
        if (answers !== 0)
          await appendAnswer(trx, { attemptId, disagreementId: answers, words: reason, by, at });
      });
      return reply.redirect(`/sections/${section.id}/attempts/${graded.id}?said=points-changed`, 303);
    },
  );

  app.post<AttemptParams>(
    '/sections/:sectionId/attempts/:attemptId/answers',
    INSTRUCTOR,
    async (request, reply) => {
      const asked = await attemptAsked(store.db, request);
      const { section, graded } = asked;
      const form = readForm(answerForm, request.body);
      if (!form.ok) {
        const { disagreement = '', words = '' } = form.values;
        if (form.problems.disagreement !== undefined)
          throw new BadRequest('Say which disagreement is answered.');
        const answer = { about: disagreement, words, problem: form.problems.words ?? '' };
        return reviewPage(reply.code(422), asked, { answer });
      }
      const { disagreement, words } = form.value;
      const answer = {
        attemptId: graded.id,
        disagreementId: disagreement,
        words,
        by: actorOf(request).id,
        at: app.clock().toISOString(),
      };
      await writeTransaction(store, (trx) => appendAnswer(trx, answer));
      return reply.redirect(
        `/sections/${section.id}/attempts/${graded.id}?said=disagreement-answered#disagreement-${disagreement}`,
        303,
      );
    },
  );

  app.post<{ Params: { id: string } }>('/attempts/:id/disagreements', STUDENT, async (request, reply) => {
    const actor = actorOf(request);
    const attemptId = request.params.id;
    const { id: gradeId, grade } = await getOwnGrade(store.db, actor, attemptId);
    const form = readForm(disagreementForm, request.body);
    const about = readRef(form.values.about ?? '');
    if (about === null || !isIn(grade, about))
      throw new BadRequest('There is no such remark any more. Go back, reload the page and look again.');
    if (!form.ok) {
      const view: ResultPage = {
        title: 'Result',
        scripts: ['replay.js'],
        graded: await loadGradedAttempt(store.db, attemptId),
        disagreement: {
          about: form.values.about ?? '',
          words: form.values.words ?? '',
          problem: form.problems.words ?? '',
        },
      };
      return reply.code(422).page('attempts/result', view);
    }
    const one = {
      ...{ attemptId, gradeId, about, words: form.value.words },
      ...{ by: actor.id, at: app.clock().toISOString() },
    };
    await writeTransaction(store, (trx) => appendDisagreement(trx, one));
    return reply.redirect(
      `/attempts/${attemptId}/result?said=disagreement-kept#${anchorOf(form.value.about)}`,
      303,
    );
  });
}

/** The id of a remark on the page. */
function anchorOf(ref: string): string {
  return ref.replaceAll('.', '-');
}

function outOfEach(graded: GradedAttempt): Record<Criterion, number> {
  const outOf = { setUp: 0, procedure: 0, reading: 0, verdict: 0 };
  for (const row of graded.points.rows) outOf[row.criterion] = row.outOf;
  return outOf;
}

type Item = Awaited<ReturnType<typeof listSectionItems>>[number];

function studentItem(item: Item, attempts: readonly FollowedAttempt[]): StudentItemView[] {
  if (item.way === null) return [];
  const own = attempts.filter(({ itemId }) => itemId === item.id);
  return [
    {
      id: item.id,
      title: item.title,
      sheetTitle: item.sheetTitle,
      wayWords: item.way === 'practice' ? 'practice' : 'graded run',
      triesWords:
        item.tries === null
          ? `${own.length} ${own.length === 1 ? 'try' : 'tries'}`
          : `${own.length} of ${own[0]?.tries ?? item.tries} tries used`,
      attempts: own.map(attemptRow),
    },
  ];
}

function attemptRow(attempt: FollowedAttempt): AttemptRowView {
  return {
    ...attempt,
    startedWhen: timeWords(attempt.startedAt),
    handedInWhen: attempt.handedInAt === null ? null : timeWords(attempt.handedInAt),
    lastActionWhen: attempt.lastActionAt === null ? null : timeWords(attempt.lastActionAt),
  };
}
