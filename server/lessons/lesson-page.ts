import type { FastifyReply, FastifyRequest } from 'fastify';
import { actorOf } from '../web/access.ts';
import { KEPT_PART_MARK, type KeptPart, keptPart } from '../web/kept-part.ts';
import { timeWords } from '../web/words/index.ts';
import type { Lesson } from './load.ts';
import { practiseNext } from './practise.ts';
import { answerKey, listOwnAnswers, type OwnAnswers } from './queries.ts';
import { type Asking, askQuestion, recallAnswer } from './questions.ts';
import type { Reading } from './reading.ts';
import type { LessonView, Question, QuestionFormView, QuestionView } from './schema.ts';
import type { Shelf } from './shelf.ts';

/** What one question shows instead of its plain state. */
export interface Held {
  readonly questionId: string;
  readonly typed?: string;
  readonly problem?: string;
}

const LESSON_SCRIPT = 'lesson-figure.js';

/** A lesson with the reader's own answers in it. `reading` is how far they are with it. */
export async function lessonPage(
  request: FastifyRequest,
  reply: FastifyReply,
  shelf: Shelf,
  lesson: Lesson,
  held: Held,
  reading: Reading,
): Promise<FastifyReply> {
  const actor = actorOf(request);
  const { db } = request.server.store;
  const own = await listOwnAnswers(db, actor, lesson.slug);
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
    needs: lesson.head.needs.flatMap((slug) => {
      const title = shelf.shipped(slug)?.head.title;
      return title === undefined ? [] : [{ slug, title }];
    }),
    competencies: lesson.head.competencies.map((code) => ({
      code,
      title: shelf.course.competencies.get(code) ?? '',
    })),
    html: KEPT_PART_MARK,
    contents: lesson.contents,
    questions,
    right: countRight(lesson.questions, own, lesson.slug),
    practise: await practiseNext(db, actor, lesson.head.practise),
    readAt: reading.readAt === null ? null : timeWords(reading.readAt),
    mayMakeOwn: actor.role === 'instructor' && !lesson.slug.startsWith('own-'),
  };
  return reply.pageAround(textOf(lesson), 'lessons/lesson', view);
}

const TEXTS = new WeakMap<Lesson, KeptPart>();

function textOf(lesson: Lesson): KeptPart {
  const found = TEXTS.get(lesson) ?? keptPart(lesson.html);
  TEXTS.set(lesson, found);
  return found;
}

/** Forms of askings that were shown before, the longest unused forgotten first: whose, of what and the how-manieth says all of them. */
const SHOWN = new Map<string, QuestionFormView>();
const MOST_SHOWN = 5000;

function plainForm(question: Question, asking: Asking): QuestionFormView {
  const key = `${asking.personId}/${asking.slug}/${question.id}/${asking.tries}`;
  const found = SHOWN.get(key) ?? askQuestion(question, asking);
  SHOWN.delete(key);
  SHOWN.set(key, found);
  const [oldest] = SHOWN.keys();
  if (SHOWN.size > MOST_SHOWN && oldest !== undefined) SHOWN.delete(oldest);
  return found;
}

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
    ? mine && held.problem !== undefined
      ? askQuestion(question, { slug, personId, tries }, held.typed ?? '', held.problem)
      : plainForm(question, { slug, personId, tries })
    : null;
  return { id: question.id, number, answered, form };
}

/** How many questions of a lesson the reader has once answered right. */
export function countRight(
  questions: readonly Question[],
  own: ReadonlyMap<string, OwnAnswers>,
  slug: string,
): number {
  return questions.filter(({ id }) => own.get(answerKey(slug, id))?.everRight).length;
}
