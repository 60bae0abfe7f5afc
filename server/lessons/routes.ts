import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest, NotFound } from '../web/errors.ts';
import { readForm } from '../web/forms.ts';
import type { Lesson } from './load.ts';
import { answerKey, appendAnswer, listOwnAnswers, type OwnAnswers } from './queries.ts';
import { askQuestion, gradeAnswer, recallAnswer } from './questions.ts';
import { answerForm, type LessonLine, type LessonView, type Question, type QuestionView } from './schema.ts';

/** What one question shows instead of its plain state. */
interface Held {
  readonly questionId: string;
  readonly typed?: string;
  readonly problem?: string;
}

type LessonRequest = FastifyRequest<{ Params: { slug: string } }>;

export function lessonsRoutes(app: FastifyInstance, lessons: readonly Lesson[]): void {
  const getLesson = (slug: string): Lesson => {
    const lesson = lessons.find((one) => one.slug === slug);
    if (!lesson) throw new NotFound();
    return lesson;
  };

  app.get('/lessons', { config: { access: 'signed-in' } }, async (request, reply) => {
    const own = await listOwnAnswers(app.store.db, actorOf(request));
    const lines = lessons.map(
      ({ slug, head, questions }): LessonLine => ({
        slug,
        title: head.title,
        minutes: head.minutes,
        aims: head.aims,
        right: countRight(questions, own, slug),
        questions: questions.length,
      }),
    );
    return reply.page('lessons/list', { title: 'Lessons', lessons: lines });
  });

  app.get('/lessons/:slug', { config: { access: 'signed-in' } }, async (request: LessonRequest, reply) => {
    const { again } = request.query as { again?: unknown };
    return lessonPage(request, reply, getLesson(request.params.slug), {
      questionId: typeof again === 'string' ? again : '',
    });
  });

  app.post(
    '/lessons/:slug/answers',
    { config: { access: 'signed-in' } },
    async (request: LessonRequest, reply) => {
      const actor = actorOf(request);
      const lesson = getLesson(request.params.slug);
      const form = readForm(answerForm, request.body);
      if (!form.ok) throw new BadRequest();
      const { question: questionId, tries, answer } = form.value;
      const question = lesson.questions.find(({ id }) => id === questionId);
      if (!question) throw new BadRequest();

      const graded = gradeAnswer(question, { slug: lesson.slug, personId: actor.id, tries }, answer);
      const own = await listOwnAnswers(app.store.db, actor, lesson.slug);
      const stale = tries !== (own.get(answerKey(lesson.slug, questionId))?.tries ?? 0);
      if (stale || !graded.ok) {
        const problem = stale || graded.ok ? ANSWERED_ELSEWHERE : graded.problem;
        // Numbers that are no longer asked for are not worth keeping an answer to.
        return lessonPage(request, reply.code(422), lesson, {
          questionId,
          problem,
          typed: stale ? '' : answer,
        });
      }
      const added = await writeTransaction(app.store, (trx) =>
        appendAnswer(trx, actor, {
          slug: lesson.slug,
          questionId,
          tries,
          answer,
          correct: graded.correct,
          at: app.clock().toISOString(),
        }),
      );
      if (!added)
        return lessonPage(request, reply.code(422), lesson, { questionId, problem: ANSWERED_ELSEWHERE });
      return reply.redirect(`/lessons/${lesson.slug}#q-${questionId}`, 303);
    },
  );
}

const ANSWERED_ELSEWHERE =
  'This question has been answered on another page since. Here it is again with new numbers; answer this one.';

async function lessonPage(request: LessonRequest, reply: FastifyReply, lesson: Lesson, held: Held) {
  const actor = actorOf(request);
  const own = await listOwnAnswers(request.server.store.db, actor, lesson.slug);
  const questions = lesson.questions.map((question, index) =>
    viewOf(question, index + 1, lesson.slug, actor.id, own.get(answerKey(lesson.slug, question.id)), held),
  );
  const view: LessonView = {
    title: lesson.head.title,
    crumbs: [{ href: '/lessons', text: 'Lessons' }, { text: lesson.head.title }],
    scripts: lesson.live ? [LESSON_SCRIPT] : [],
    sheetCode: 'Lesson',
    slug: lesson.slug,
    lesson: lesson.head,
    html: lesson.html,
    contents: lesson.contents,
    questions,
    right: countRight(lesson.questions, own, lesson.slug),
  };
  return reply.page('lessons/lesson', view);
}

const LESSON_SCRIPT = 'lesson-figure.js';

function viewOf(
  question: Question,
  number: number,
  slug: string,
  personId: number,
  own: OwnAnswers | undefined,
  held: Held,
): QuestionView {
  const mine = held.questionId === question.id;
  const tries = own?.tries ?? 0;
  const answered = own
    ? recallAnswer(question, { slug, personId, tries: tries - 1 }, own.last.answer, own.last.correct)
    : null;
  const asked = !own?.last.correct || mine;
  const form = asked
    ? askQuestion(
        question,
        { slug, personId, tries },
        mine ? (held.typed ?? '') : '',
        mine ? held.problem : undefined,
      )
    : null;
  return { id: question.id, number, answered, form };
}

function countRight(
  questions: readonly Question[],
  own: ReadonlyMap<string, OwnAnswers>,
  slug: string,
): number {
  return questions.filter(({ id }) => own.get(answerKey(slug, id))?.everRight).length;
}
