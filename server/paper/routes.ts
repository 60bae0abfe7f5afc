import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { brief, type DialReadingBench, generateBench, type KindName } from '../engine/index.ts';
import { deskOf, onlyOwnBoxes, partViews, readBoxes, type Typed } from '../kinds/index.ts';
import { getTaughtSection, listRoster } from '../sections/index.ts';
import { listShopItems } from '../sign-offs/index.ts';
import { actorOf } from '../web/access.ts';
import { NotFound } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { codeWords, readCode } from '../web/short-code.ts';
import { timeWords } from '../web/words/index.ts';
import { gradePaper, keyOf, paperDials, paperLines, seedForPaper } from './dials.ts';
import { dialsAsked, type PrintForm, printForm } from './forms.ts';
import { MEASURING_KINDS, measuringSheet } from './measuring.ts';
import {
  appendBatch,
  appendReadings,
  type Batch,
  findReadings,
  getBatch,
  getSheet,
  listBatches,
  listEntered,
  listSheets,
  type PaperSettings,
  type PaperSheet,
} from './queries.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;
type BatchRequest = FastifyRequest<{ Params: { id: string; batchId: string } }>;
type SheetRequest = FastifyRequest<{ Params: { id: string; code: string } }>;

/** Sheets to be printed, their key, and finding one again by its code. */
export function paperRoutes(app: FastifyInstance): void {
  const { store } = app;
  const sectionAsked = (request: FastifyRequest<{ Params: { id: string } }>) =>
    getTaughtSection(store.db, actorOf(request), readId(request.params.id));

  app.get('/sections/:id/paper', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const { code: typed } = (request.query ?? {}) as Values;
    if (typeof typed !== 'string' || typed.trim() === '') return paperPage(request, reply, {}, {});
    const section = await sectionAsked(request);
    const code = readCode(typed);
    const found = code === null ? null : await getSheet(store.db, section.id, code).catch(ifNotFound);
    if (found !== null)
      return reply.redirect(`/sections/${section.id}/paper/sheets/${found.sheet.code}`, 303);
    const problem =
      code === null
        ? 'This is no code. It has seven letters and digits; look again.'
        : 'No sheet of this section has this code.';
    return paperPage(request, reply.code(422), { code: typed }, { code: problem });
  });

  app.post('/sections/:id/paper', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    const form = readForm(printForm, request.body);
    if (!form.ok) return paperPage(request, reply.code(422), form.values, form.problems);
    const problems: Problems = {};
    const asked = await settingsAsked(section.id, form.value, problems);
    const roster = await listRoster(store.db, actorOf(request), section.id);
    if (roster.length + form.value.spare === 0)
      problems.spare = 'Nobody is on the roster: write how many spare sheets you want.';
    if (asked === null || Object.keys(problems).length > 0)
      return paperPage(request, reply.code(422), form.values, problems);
    const { settings } = asked;
    const seeds =
      settings.kind === 'dials'
        ? Array.from({ length: roster.length + form.value.spare }, () =>
            seedForPaper(settings.definition, app.newSeed()),
          )
        : [];
    const id = await writeTransaction(store, (trx) =>
      appendBatch(trx, actorOf(request), {
        sectionId: section.id,
        title: form.value.title || asked.title,
        students: roster.map((student) => student.id),
        spare: form.value.spare,
        at: app.clock().toISOString(),
        ...{ settings, seeds },
      }),
    );
    return reply.redirect(`/sections/${section.id}/paper/${id}`, 303);
  });

  app.get('/sections/:id/paper/:batchId', INSTRUCTOR, async (request: BatchRequest, reply) => {
    const section = await sectionAsked(request);
    const batch = await getBatch(store.db, section.id, readId(request.params.batchId));
    const sheets = await listSheets(store.db, batch.id);
    return reply.page('paper/print', printView(section, batch, sheets));
  });

  app.get('/sections/:id/paper/:batchId/key', INSTRUCTOR, async (request: BatchRequest, reply) => {
    const section = await sectionAsked(request);
    const batch = await getBatch(store.db, section.id, readId(request.params.batchId));
    if (batch.settings.kind !== 'dials') throw new NotFound();
    const entered = await listEntered(store.db, batch.id);
    return reply.page('paper/key', {
      title: `Key: ${batch.title}`,
      ...{ section, batch },
      sheets: (await listSheets(store.db, batch.id)).map((sheet) => ({
        ...sheet,
        codeWords: codeWords(sheet.code),
        entered: entered.has(sheet.code),
        lines: keyOf(benchOf(batch, sheet)),
      })),
    });
  });

  app.get('/sections/:id/paper/sheets/:code', INSTRUCTOR, async (request: SheetRequest, reply) => {
    const { section, batch, sheet } = await sheetAsked(request);
    const entered = await findReadings(store.db, sheet.code);
    return sheetPage(reply, { section, batch, sheet, entered, typed: entered?.typed ?? {}, problems: {} });
  });

  app.post('/sections/:id/paper/sheets/:code', INSTRUCTOR, async (request: SheetRequest, reply) => {
    const { section, batch, sheet } = await sheetAsked(request);
    const bench = benchOf(batch, sheet);
    const desk = deskOf('dial-reading');
    const plate = brief(bench);
    const parts = desk.form(plate);
    const typed = onlyOwnBoxes(parts, textsOf(request.body));
    const { boxes, problems } = readBoxes(parts, typed);
    if (Object.keys(typed).length === 0)
      problems['1.reading'] = 'Nothing is entered yet. Copy at least one reading from the paper.';
    if (Object.keys(problems).length > 0) {
      const entered = await findReadings(store.db, sheet.code);
      return sheetPage(reply.code(422), { section, batch, sheet, entered, typed, problems });
    }
    const written = desk.sheet(plate, boxes);
    const grade = gradePaper(bench, written.drills);
    const at = app.clock().toISOString();
    await writeTransaction(store, (trx) =>
      appendReadings(trx, actorOf(request), { code: sheet.code, typed, sheet: written, grade, at }),
    );
    return reply.redirect(`/sections/${section.id}/paper/sheets/${sheet.code}?said=paper-entered`, 303);
  });

  async function sheetAsked(request: SheetRequest) {
    const section = await sectionAsked(request);
    const code = readCode(request.params.code);
    if (code === null) throw new NotFound();
    return { section, ...(await getSheet(store.db, section.id, code)) };
  }

  /** What is printed, out of the form; null with problems where it cannot be. */
  async function settingsAsked(
    sectionId: number,
    form: PrintForm,
    problems: Problems,
  ): Promise<{ readonly settings: PaperSettings; readonly title: string } | null> {
    if (form.kind === 'dials')
      return { settings: { kind: 'dials', definition: dialsAsked(form) }, title: 'Reading dials' };
    if (form.kind === 'measuring') {
      const work = MEASURING_KINDS.find((kind) => kind === form.work);
      if (work !== undefined)
        return { settings: { kind: 'measuring', work }, title: deskOf<KindName>(work).title };
      problems.work = 'Choose the work.';
      return null;
    }
    const item = (await listShopItems(store.db, sectionId)).find(({ id }) => String(id) === form.item);
    if (item !== undefined)
      return { settings: { kind: 'sign-off', itemId: item.id, work: item.work }, title: item.title };
    problems.item = 'Choose the work on a shop engine. It must be on a sheet that is assigned.';
    return null;
  }

  async function paperPage(request: SectionRequest, reply: FastifyReply, typed: Values, problems: Problems) {
    const section = await sectionAsked(request);
    const roster = await listRoster(store.db, actorOf(request), section.id);
    return reply.page('paper/paper', {
      title: `Paper: ${section.name}`,
      section,
      students: roster.length,
      works: MEASURING_KINDS.map((kind) => ({ value: kind, text: deskOf<KindName>(kind).title })),
      items: (await listShopItems(store.db, section.id)).map(({ id, title }) => ({ value: id, text: title })),
      batches: (await listBatches(store.db, section.id)).map((batch) => ({
        ...batch,
        when: timeWords(batch.at),
      })),
      values: { kind: 'dials', dials: '4', level: '2', unit: '', spare: '0', ...typed },
      problems,
    });
  }
}

type Section = Awaited<ReturnType<typeof getTaughtSection>>;

function benchOf({ settings }: Batch, { seed }: PaperSheet): DialReadingBench {
  if (settings.kind !== 'dials' || seed === null) throw new NotFound();
  return generateBench(settings.definition, seed);
}

function ifNotFound(error: unknown): null {
  if (error instanceof NotFound) return null;
  throw error;
}

function textsOf(body: unknown): Typed {
  return Object.fromEntries(
    Object.entries((body ?? {}) as Record<string, unknown>).filter(
      (entry): entry is [string, string] => typeof entry[1] === 'string' && entry[1].length <= 40,
    ),
  );
}

/** Every sheet of a batch as it is printed, a page or two each. */
function printView(section: Section, batch: Batch, sheets: readonly PaperSheet[]) {
  const { settings } = batch;
  return {
    title: batch.title,
    ...{ section, batch },
    back: `/sections/${section.id}/paper`,
    measuring: settings.kind === 'measuring' ? measuringSheet(settings.work) : null,
    steps: settings.kind === 'sign-off' ? settings.work.steps : null,
    sheets: sheets.map((sheet) => ({
      ...sheet,
      codeWords: codeWords(sheet.code),
      dials: settings.kind === 'dials' ? paperDials(benchOf(batch, sheet), sheet.code) : [],
    })),
  };
}

function sheetPage(
  reply: FastifyReply,
  shown: {
    readonly section: Section;
    readonly batch: Batch;
    readonly sheet: PaperSheet;
    readonly entered: Awaited<ReturnType<typeof findReadings>>;
    readonly typed: Typed;
    readonly problems: Problems;
  },
) {
  const { section, batch, sheet, entered, typed, problems } = shown;
  const isDials = batch.settings.kind === 'dials';
  const bench = isDials ? benchOf(batch, sheet) : null;
  return reply.page('paper/sheet', {
    title: `Sheet ${codeWords(sheet.code)}`,
    ...{ section, batch, sheet, problems },
    printedWhen: timeWords(batch.at),
    itemId: batch.settings.kind === 'sign-off' ? batch.settings.itemId : null,
    key: bench === null ? [] : keyOf(bench),
    parts: bench === null ? [] : partViews(deskOf('dial-reading').form(brief(bench)), typed, problems),
    entered:
      entered === null || bench === null
        ? null
        : {
            who: entered.who,
            at: entered.at,
            when: timeWords(entered.at),
            lines: paperLines(bench, entered.grade),
          },
  });
}
