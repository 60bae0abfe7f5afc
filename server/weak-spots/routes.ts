import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { listSectionAnswers, listShippedLessons } from '../lessons/index.ts';
import { GROSS, readingSummary } from '../record/index.ts';
import { getTaughtSection, listRoster } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { NotFound } from '../web/errors.ts';
import { readId } from '../web/forms.ts';
import { CRITERION_WORDS, lengthOfTime, timeWords } from '../web/words/index.ts';
import { listReadings, listWork } from './queries.ts';
import { shortWords } from './short-words.ts';
import { itemsOf, lessonsOf, questionsOf, type Spot, spotsOf, type Work } from './tally.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;

const text = z.string().max(120).catch('');
const asked = z.object({ item: text, way: text, spot: text, lesson: text, question: text }).partial();

/** What a section gets wrong, and the attempts behind each figure. */
export function weakSpotRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/sections/:id/weak-spots', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await getTaughtSection(store.db, actorOf(request), readId(request.params.id));
    const roster = await listRoster(store.db, actorOf(request), section.id);
    const all = await listWork(store.db, section.id);
    const filter = filterOf(request.query);
    const work = all.filter(fits(filter));
    const lessons = titles();
    const readings = await listReadings(store.db, section.id);
    return reply.page('weak-spots/weak-spots', {
      title: `What goes wrong: ${section.name}`,
      section,
      filter,
      query: queryOf(filter),
      items: itemsOf(all).map(({ itemId, title }) => ({ value: String(itemId), text: title })),
      attempts: work.length,
      students: new Set(work.map(({ studentId }) => studentId)).size,
      spots: spotsOf(work).map((spot) => ({
        ...spot,
        ...spotWords(spot),
        lessonTitle: lessons.get(spot.lesson),
      })),
      lessons: lessonsOf(work).map((one) => ({ ...one, title: lessons.get(one.slug) ?? one.slug })),
      hardest: itemsOf(work).map((one) => ({ ...one, activeWords: lengthOfTime(one.activeSeconds) })),
      questions: questionsOf(await listSectionAnswers(store.db, section.id)).map((one) => ({
        ...one,
        lessonTitle: lessons.get(one.lesson) ?? one.lesson,
        ask: askOf(one.lesson, one.question),
      })),
      gross: GROSS,
      readings: roster.flatMap(({ id, family_name, given_name }) => {
        const own = readings.get(id) ?? [];
        return own.length === 0
          ? []
          : [{ id, name: `${family_name}, ${given_name}`, ...readingSummary(own) }];
      }),
      together: readingSummary(roster.flatMap(({ id }) => readings.get(id) ?? [])),
    });
  });

  app.get('/sections/:id/weak-spots/behind', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await getTaughtSection(store.db, actorOf(request), readId(request.params.id));
    const roster = await listRoster(store.db, actorOf(request), section.id);
    const names = new Map(
      roster.map(({ id, family_name, given_name }) => [id, `${family_name}, ${given_name}`]),
    );
    const filter = filterOf(request.query);
    const given = asked.parse(request.query);
    if (given.question) return behindQuestion(given.question);
    const work = (await listWork(store.db, section.id)).filter(fits(filter));
    const spots = spotsOf(work);
    const spot = spots.find(({ key }) => key === given.spot);
    const lesson = lessonsOf(work).find(({ slug }) => slug === given.lesson);
    if ((given.spot && spot === undefined) || (given.lesson && lesson === undefined)) throw new NotFound();
    const wanted = spot?.attempts ?? lesson?.attempts ?? work.map(({ attemptId }) => attemptId);
    const lines = work.filter(({ attemptId }) => wanted.includes(attemptId));
    return reply.page('weak-spots/behind', {
      title: spot
        ? spotWords(spot).words
        : lesson
          ? `What “${titles().get(lesson.slug) ?? lesson.slug}” treats`
          : (lines[0]?.itemTitle ?? 'Attempts'),
      section,
      query: queryOf(filter),
      lines: lines
        .map((one) => ({
          ...one,
          name: names.get(one.studentId) ?? 'no longer on the roster',
          when: timeWords(one.handedInAt),
          activeWords: lengthOfTime(one.activeSeconds),
          spots: [
            ...new Set(
              spotsOf([one])
                .filter((own) => (spot ? own.key === spot.key : lesson ? own.lesson === lesson.slug : true))
                .map((own) => spotWords(own).words),
            ),
          ],
        }))
        .sort((one, other) => one.name.localeCompare(other.name) || one.tryNumber - other.tryNumber),
    });

    async function behindQuestion(key: string) {
      const [lesson = '', question = ''] = key.split('.');
      const answers = (await listSectionAnswers(store.db, section.id)).filter(
        (one) => one.lesson === lesson && one.question === question,
      );
      if (answers.length === 0) throw new NotFound();
      const people = [...new Set(answers.map(({ studentId }) => studentId))];
      return reply.page('weak-spots/answers', {
        title: titles().get(lesson) ?? lesson,
        section,
        lesson,
        ask: askOf(lesson, question),
        lines: people
          .map((id) => {
            const own = answers.filter(({ studentId }) => studentId === id);
            const right = own.findIndex((one) => one.right);
            return {
              ...{ id, name: names.get(id) ?? 'no longer on the roster', answers: own.length },
              rightAt: right < 0 ? null : right + 1,
              when: timeWords(own.at(-1)?.at ?? ''),
            };
          })
          .sort(
            (one, other) =>
              (other.rightAt ?? 999) - (one.rightAt ?? 999) || one.name.localeCompare(other.name),
          ),
      });
    }
  });
}

interface Filter {
  readonly item: string;
  readonly way: string;
}

function filterOf(query: unknown): Filter {
  const { item = '', way = '' } = asked.parse(query);
  return { item, way: way === 'practice' || way === 'graded-run' ? way : '' };
}

function fits({ item, way }: Filter): (work: Work) => boolean {
  return (work) => (item === '' || String(work.itemId) === item) && (way === '' || work.way === way);
}

/** The filter as it goes on in an address. */
function queryOf({ item, way }: Filter): string {
  return new URLSearchParams([
    ...(item === '' ? [] : [['item', item]]),
    ...(way === '' ? [] : [['way', way]]),
  ] as string[][]).toString();
}

function spotWords({ kind, code, criterion }: Spot): { readonly words: string; readonly about: string } {
  return {
    words: shortWords(kind, code),
    about: kind === 'stop' ? 'Stop' : criterion === null ? 'Safety' : CRITERION_WORDS[criterion],
  };
}

function titles(): ReadonlyMap<string, string> {
  return new Map(listShippedLessons().map(({ slug, title }) => [slug, title]));
}

function askOf(lesson: string, question: string): string {
  const found = listShippedLessons().find(({ slug }) => slug === lesson);
  return found?.asks.find(({ id }) => id === question)?.ask ?? question;
}
