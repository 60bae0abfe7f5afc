import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { CRITERIA, FULL_POINTS, KIND_NAMES } from '../engine/index.ts';
import { deskOf } from '../kinds/index.ts';
import {
  copySheet,
  draftOf,
  fieldsOf,
  freshItem,
  getSheet,
  type ItemDraft,
  keepSheet,
  listSheetItems,
  listSheets,
  MOST_ITEMS,
  readDraft,
  readSheet,
  rearranged,
  type SheetDraft,
  type WrittenSheet,
} from '../labsheets/index.ts';
import { listShippedLessons } from '../lessons/index.ts';
import { listEngines, type ShopEngine } from '../shop/index.ts';
import { actorOf } from '../web/access.ts';
import { Forbidden } from '../web/errors.ts';
import { type Problems, readId } from '../web/forms.ts';
import { CRITERION_WORDS } from '../web/words/index.ts';
import { sectionMeant } from './section-meant.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SheetRequest = FastifyRequest<{ Params: { id: string } }>;

/** What can be put on a sheet, in groups, for the list to add from. */
function addable() {
  const lessons = listShippedLessons();
  const kinds = KIND_NAMES.map((kind) => ({ kind, title: deskOf(kind).title })).sort((one, other) =>
    one.title.localeCompare(other.title),
  );
  return [
    { label: 'In the shop', options: [{ value: 'shop-engine', text: 'Work on a shop engine' }] },
    {
      label: 'Graded run on a practice engine',
      options: kinds.map(({ kind, title }) => ({ value: `practice-engine:${kind}:graded-run`, text: title })),
    },
    {
      label: 'Practice on a practice engine',
      options: kinds.map(({ kind, title }) => ({ value: `practice-engine:${kind}:practice`, text: title })),
    },
    {
      label: 'Lesson',
      options: lessons.map(({ slug, title }) => ({ value: `lesson:${slug}`, text: title })),
    },
    {
      label: 'Questions of a lesson',
      options: lessons.map(({ slug, title }) => ({ value: `question-set:${slug}`, text: title })),
    },
  ];
}

export function writeRoutes(app: FastifyInstance): void {
  const { store } = app;
  const sheetAsked = (request: SheetRequest) =>
    getSheet(store.db, actorOf(request), readId(request.params.id));

  app.get('/lab-sheets', INSTRUCTOR, async (request, reply) => {
    const sheets = await listSheets(store.db, actorOf(request));
    return reply.page('teaching/list', { title: 'Lab sheets', sheets, section: sectionMeant(request) });
  });

  app.get('/lab-sheets/new', INSTRUCTOR, async (_request, reply) =>
    writingPage(reply, { sheet: null, draft: BLANK, problems: {} }),
  );

  app.get('/lab-sheets/:id', INSTRUCTOR, async (request: SheetRequest, reply) => {
    const sheet = await sheetAsked(request);
    if (!sheet.mine) return reply.redirect(`/lab-sheets/${sheet.id}/preview`, 303);
    return writingPage(reply, { sheet, draft: await draftOf(store.db, sheet), problems: {} });
  });

  app.get('/lab-sheets/:id/preview', INSTRUCTOR, async (request: SheetRequest, reply) => {
    const sheet = await sheetAsked(request);
    const items = await listSheetItems(store.db, sheet.id);
    const weights = CRITERIA.map((criterion) => ({
      name: CRITERION_WORDS[criterion],
      value: (sheet.weights ?? FULL_POINTS)[criterion],
    }));
    return reply.page('teaching/preview', { title: sheet.title, sheet, items, weights });
  });

  app.post('/lab-sheets', INSTRUCTOR, async (request, reply) => keep(request, reply, null));

  app.post('/lab-sheets/:id', INSTRUCTOR, async (request: SheetRequest, reply) => {
    const sheet = await sheetAsked(request);
    if (!sheet.mine) throw new Forbidden('This sheet is not yours to change. Make a copy of it.');
    return keep(request, reply, sheet);
  });

  app.post('/lab-sheets/:id/copy', INSTRUCTOR, async (request: SheetRequest, reply) => {
    const sheet = await sheetAsked(request);
    const at = app.clock().toISOString();
    const id = await writeTransaction(store, (trx) => copySheet(trx, actorOf(request), sheet, at));
    return reply.redirect(`/lab-sheets/${id}?said=sheet-copied`, 303);
  });

  async function keep(request: FastifyRequest, reply: FastifyReply, sheet: WrittenSheet | null) {
    const { draft, button, add } = readDraft(request.body);
    if (button.what === 'add') {
      const key = String(1 + Math.max(-1, ...draft.items.map((item) => Number(item.key))));
      const lesson = listShippedLessons().find(({ slug }) => add.endsWith(`:${slug}`));
      const item = freshItem(add, key, lesson?.title ?? null);
      const full = draft.items.length >= MOST_ITEMS;
      if (item === null || full) {
        const said = full ? `A sheet has at most ${MOST_ITEMS} items.` : 'Choose what to add.';
        return writingPage(reply.code(422), { sheet, draft, problems: { add: said } });
      }
      return writingPage(reply, {
        sheet,
        draft: { ...draft, items: [...draft.items, item] },
        problems: {},
        last: key,
      });
    }
    if (button.what === 'engine') {
      const engines = await listEngines(store.db);
      const items = draft.items.map((item) =>
        item.key === button.of
          ? filledFrom(
              item,
              engines.find(({ id }) => String(id) === item.values.engine),
            )
          : item,
      );
      return writingPage(reply, { sheet, draft: { ...draft, items }, problems: {}, last: button.of });
    }
    if (button.what !== 'keep')
      return writingPage(reply, {
        sheet,
        draft: { ...draft, items: rearranged(draft.items, button) },
        problems: {},
      });

    const known = sheet === null ? [] : await listSheetItems(store.db, sheet.id);
    const { sheet: read, problems } = readSheet(
      draft,
      new Map(known.map((item) => [item.id, item])),
      new Set(listShippedLessons().map(({ slug }) => slug)),
      sheet !== null && sheet.evidenceFor.length > 0 ? sheet : null,
    );
    if (Object.keys(problems).length > 0) return writingPage(reply.code(422), { sheet, draft, problems });
    const at = app.clock().toISOString();
    const seenVersion = Number((request.body as { version?: unknown } | null)?.version ?? 0);
    const kept = await writeTransaction(store, (trx) =>
      keepSheet(trx, actorOf(request), { id: sheet?.id ?? null, seenVersion, sheet: read, at }),
    );
    const said = kept.putAside.length > 0 ? 'sheet-kept-aside' : 'sheet-kept';
    return reply.redirect(`/lab-sheets/${kept.id}/preview?said=${said}`, 303);
  }
}

/** A practice engine with what is written down of a real one: limits, pumps and name. The lobes are drawn within them all the same. */
function filledFrom(item: ItemDraft, engine: ShopEngine | undefined): ItemDraft {
  if (engine === undefined) return item;
  const { name, pumps, unit, nominal, lower, upper } = engine;
  const shown = (length: number | null) => (length === null ? '' : String(length));
  const limits = { unit, nominal: shown(nominal), lower: shown(lower), upper: shown(upper) };
  const cylinders = pumps === 4 || pumps === 6 ? { cylinders: String(pumps) } : {};
  return { ...item, values: { ...item.values, name, ...cylinders, ...limits } };
}

const BLANK: SheetDraft = { title: '', introduction: '', weights: {}, items: [] };

async function writingPage(
  reply: FastifyReply,
  {
    sheet,
    draft,
    problems,
    last,
  }: {
    readonly sheet: WrittenSheet | null;
    readonly draft: SheetDraft;
    readonly problems: Problems;
    readonly last?: string;
  },
): Promise<FastifyReply> {
  const engines = (await listEngines(reply.server.store.db)).filter(({ archivedAt }) => archivedAt === null);
  return reply.page('teaching/write', {
    title: sheet === null ? 'New lab sheet' : `Change “${sheet.title}”`,
    crumbs: [{ href: '/lab-sheets', text: 'Lab sheets' }, { text: sheet?.title ?? 'New' }],
    action: sheet === null ? '/lab-sheets' : `/lab-sheets/${sheet.id}`,
    sheet,
    draft,
    items: draft.items.map((item) => ({ ...item, fields: fieldsOf(item) })),
    last: last ?? null,
    addable: addable(),
    engines: engines.map(({ id, name, number }) => ({ value: id, text: `${number}: ${name}` })),
    criteria: CRITERIA.map((key) => ({ key, name: CRITERION_WORDS[key], usual: FULL_POINTS[key] })),
    problems,
  });
}
