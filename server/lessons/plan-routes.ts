import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { getTaughtSection, listRoster } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { readId } from '../web/forms.ts';
import { dayWords } from '../web/words/index.ts';
import type { Lesson } from './load.ts';
import { dayOf, moved, type PlanRow, planned, withOwn } from './plan.ts';
import { type ReadPlan, readPlan } from './plan-form.ts';
import { progressOf } from './progress.ts';
import { listPlan, listSectionReading, savePlan } from './reading.ts';
import type { Shelf } from './shelf.ts';

type SectionRequest = FastifyRequest<{ Params: { id: string } }>;
const INSTRUCTOR = { config: { access: 'instructor' } } as const;

/** Which lessons a section reads, in which order and from which day; and how far its students are. */
export function planRoutes(app: FastifyInstance, shelf: Shelf): void {
  const { store } = app;

  async function asked(request: SectionRequest) {
    const actor = actorOf(request);
    const section = await getTaughtSection(store.db, actor, readId(request.params.id));
    const shelved = await shelf.listFor(store.db, actor, app.clock());
    const lessons = new Map(shelved.map(({ lesson }) => [lesson.slug, lesson]));
    const rows = await listPlan(store.db, section.id);
    return {
      section,
      lessons,
      plan: planned([...lessons.keys()], rows, dayOf(app.clock(), section.timeZone)),
    };
  }

  app.get('/sections/:id/lessons', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const { section, lessons, plan } = await asked(request);
    return planPage(reply, { section, lessons, plan, typed: {}, problems: {} });
  });

  app.post('/sections/:id/lessons', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const { section, lessons } = await asked(request);
    const form = readPlan(request.body, [...lessons.keys()]);
    const plan = planned([...lessons.keys()], form.rows, dayOf(app.clock(), section.timeZone));
    if (Object.keys(form.problems).length > 0)
      return planPage(reply.code(422), {
        section,
        lessons,
        plan,
        typed: form.typed,
        problems: form.problems,
      });
    const rows = form.what === 'reset' ? [] : changed(plan, form, lessons.get(form.key)?.basedOn ?? null);
    await writeTransaction(store, (trx) => savePlan(trx, section.id, rows));
    const at = form.key === '' ? '' : `#l-${form.key}`;
    return reply.redirect(`/sections/${section.id}/lessons?said=plan-kept${at}`, 303);
  });

  app.get('/sections/:id/reading', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const { section, lessons, plan } = await asked(request);
    const students = await listRoster(store.db, actorOf(request), section.id);
    const shown = plan.filter(({ hidden }) => !hidden).flatMap(({ key }) => lessons.get(key) ?? []);
    const progress = progressOf(students, shown, await listSectionReading(store.db, section.id));
    return reply.page('lessons/reading', { title: `Reading, ${section.name}`, section, ...progress });
  });
}

/** The plan after a button: a lesson moved, one of the instructor's own added, or nothing but what was typed. */
function changed(
  plan: readonly PlanRow[],
  { what, key }: ReadPlan,
  basedOn: string | null,
): readonly PlanRow[] {
  if (what === 'up' || what === 'down') return moved(plan, key, what === 'up' ? -1 : 1);
  if (what === 'add') return withOwn(plan, key, basedOn);
  if (what === 'remove') return plan.filter((row) => row.key !== key || !key.startsWith('own-'));
  return plan;
}

function planPage(
  reply: FastifyReply,
  {
    section,
    lessons,
    plan,
    typed,
    problems,
  }: {
    readonly section: { readonly id: number; readonly name: string; readonly timeZone: string };
    readonly lessons: ReadonlyMap<string, Lesson>;
    readonly plan: ReturnType<typeof planned>;
    readonly typed: Readonly<Record<string, string>>;
    readonly problems: Readonly<Record<string, string>>;
  },
) {
  const inPlan = new Set(plan.map(({ key }) => key));
  return reply.page('lessons/plan', {
    title: `Lessons of ${section.name}`,
    section,
    order: plan.map(({ key }) => key).join(','),
    rows: plan.map(({ key, hidden, releaseOn, open }) => ({
      key,
      title: lessons.get(key)?.head.title ?? key,
      minutes: lessons.get(key)?.head.minutes ?? 0,
      own: key.startsWith('own-'),
      hidden,
      release: typed[key] ?? releaseOn ?? '',
      problem: problems[key],
      state: hidden ? 'left out' : open ? 'open' : `opens ${dayWords(releaseOn ?? '')}`,
    })),
    toAdd: [...lessons.values()]
      .filter(({ slug }) => !inPlan.has(slug))
      .map(({ slug, head }) => ({ key: slug, title: head.title })),
  });
}
