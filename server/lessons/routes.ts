import type { FastifyInstance, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest } from '../web/errors.ts';
import { readForm } from '../web/forms.ts';
import { dayWords } from '../web/words/index.ts';
import { countRight, type Held, lessonPage } from './lesson-page.ts';
import type { Lesson } from './load.ts';
import { answerKey, appendAnswer, listOwnAnswers } from './queries.ts';
import { gradeAnswer } from './questions.ts';
import { findOwnReading, keepReading, listOwnReading } from './reading.ts';
import { answerForm, type LessonLine, type SlidesView } from './schema.ts';
import type { CourseSearch } from './search.ts';
import type { Shelf } from './shelf.ts';
import { slidesOf } from './slides.ts';

type LessonRequest = FastifyRequest<{ Params: { slug: string } }>;
const SIGNED_IN = { config: { access: 'signed-in' } } as const;

/** Where lessons are read, whoever wrote them. */
export function lessonsRoutes(app: FastifyInstance, shelf: Shelf, search: CourseSearch): void {
  const { store } = app;
  const lessonAsked = (request: LessonRequest): Promise<Lesson> =>
    shelf.get(store.db, actorOf(request), request.params.slug, app.clock());

  app.get('/lessons', SIGNED_IN, async (request, reply) => {
    const actor = actorOf(request);
    const own = await listOwnAnswers(store.db, actor);
    const reading = await listOwnReading(store.db, actor);
    const shelved = await shelf.listFor(store.db, actor, app.clock());
    const lines = shelved.map(
      ({ lesson: { slug, head, questions }, open, releaseOn }): LessonLine => ({
        slug,
        title: head.title,
        minutes: head.minutes,
        aims: head.aims,
        right: countRight(questions, own, slug),
        questions: questions.length,
        open,
        opens: releaseOn === null ? null : dayWords(releaseOn),
        state: reading.get(slug)?.readAt ? 'read' : reading.get(slug)?.openedAt ? 'begun' : 'not begun',
      }),
    );
    return reply.page('lessons/list', { title: 'Lessons', lessons: lines });
  });

  app.get('/glossary', SIGNED_IN, async (_request, reply) =>
    reply.page('lessons/glossary', { title: 'Glossary', terms: shelf.course.glossary.terms }),
  );

  app.get('/lessons/search', SIGNED_IN, async (request, reply) => {
    const { q } = request.query as { q?: unknown };
    const asked = typeof q === 'string' ? q.trim().slice(0, 200) : '';
    const shelved = await shelf.listFor(store.db, actorOf(request), app.clock());
    const open = new Map(shelved.filter((one) => one.open).map(({ lesson }) => [lesson.slug, lesson]));
    search.keepUp([...open.values()]);
    const found = search
      .find(asked, (key) => open.has(key))
      .map((one) => ({
        ...one,
        from: one.key === null ? 'glossary' : 'lesson',
        href: one.key === null ? `/glossary#${one.anchor}` : `/lessons/${one.key}#${one.anchor}`,
      }));
    return reply.page('lessons/search', { title: 'Search', asked, found });
  });

  app.get('/lessons/:slug', SIGNED_IN, async (request: LessonRequest, reply) => {
    const lesson = await lessonAsked(request);
    const actor = actorOf(request);
    const { again } = request.query as { again?: unknown };
    const reading = await findOwnReading(store.db, actor, lesson.slug);
    if (actor.role === 'student' && reading.openedAt === null)
      await writeTransaction(store, (trx) =>
        keepReading(trx, actor, lesson.slug, 'opened', app.clock().toISOString()),
      );
    const held = { questionId: typeof again === 'string' ? again : '' };
    return lessonPage(request, reply, shelf, lesson, held, reading);
  });

  app.get('/lessons/:slug/slides', SIGNED_IN, async (request: LessonRequest, reply) => {
    const lesson = await lessonAsked(request);
    const view: SlidesView = {
      title: lesson.head.title,
      slug: lesson.slug,
      scripts: lesson.live ? ['lesson-figure.js', 'slides.js'] : ['slides.js'],
      lesson: lesson.head,
      slides: slidesOf(lesson),
    };
    return reply.page('lessons/slides', view);
  });

  app.post('/lessons/:slug/read', SIGNED_IN, async (request: LessonRequest, reply) => {
    const lesson = await lessonAsked(request);
    await writeTransaction(store, (trx) =>
      keepReading(trx, actorOf(request), lesson.slug, 'read', app.clock().toISOString()),
    );
    return reply.redirect(`/lessons/${lesson.slug}#read`, 303);
  });

  app.post('/lessons/:slug/answers', SIGNED_IN, async (request: LessonRequest, reply) => {
    const actor = actorOf(request);
    const lesson = await lessonAsked(request);
    const form = readForm(answerForm, request.body);
    if (!form.ok) throw new BadRequest();
    const { question: questionId, tries, answer } = form.value;
    const question = lesson.questions.find(({ id }) => id === questionId);
    if (!question) throw new BadRequest();

    const graded = gradeAnswer(question, { slug: lesson.slug, personId: actor.id, tries }, answer);
    const answerAgain = async (held: Held) => {
      const reading = await findOwnReading(store.db, actor, lesson.slug);
      return lessonPage(request, reply.code(422), shelf, lesson, held, reading);
    };
    const own = await listOwnAnswers(store.db, actor, lesson.slug);
    const stale = tries !== (own.get(answerKey(lesson.slug, questionId))?.tries ?? 0);
    if (stale || !graded.ok) {
      const problem = stale || graded.ok ? ANSWERED_ELSEWHERE : graded.problem;
      // Numbers that are no longer asked for are not worth keeping an answer to.
      return answerAgain({ questionId, problem, typed: stale ? '' : answer });
    }
    const added = await writeTransaction(store, (trx) =>
      appendAnswer(trx, actor, {
        slug: lesson.slug,
        questionId,
        tries,
        answer,
        correct: graded.correct,
        at: app.clock().toISOString(),
      }),
    );
    if (!added) return answerAgain({ questionId, problem: ANSWERED_ELSEWHERE });
    return reply.redirect(`/lessons/${lesson.slug}#q-${questionId}`, 303);
  });
}

const ANSWERED_ELSEWHERE =
  'This question has been answered on another page since. Here it is again with new numbers; answer this one.';
