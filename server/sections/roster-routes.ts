import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { UPLOAD_BYTES } from '../config.ts';
import { actorOf } from '../web/access.ts';
import { AppError } from '../web/errors.ts';
import { readForm, readId, type Values } from '../web/forms.ts';
import { readOneRoster } from './oneroster.ts';
import { getTaughtSection } from './queries.ts';
import { readRosterCsv } from './roster-csv.ts';
import { planRoster, type RosterPlan } from './roster-plan.ts';
import { getPreview, keepPreview, type ReadRoster, takeRoster } from './roster-take.ts';
import { decodeRoster } from './roster-text.ts';
import { type RosterView, rosterForm } from './schema.ts';
import { isZip, unzip, ZipProblem } from './zip.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;
type PreviewRequest = FastifyRequest<{ Params: { id: string; previewId: string } }>;
type Refusal = Partial<Pick<RosterView, 'problems' | 'lines' | 'notes'>>;

/** Loading a roster: read, shown, and only then taken. */
export function rosterRoutes(app: FastifyInstance): void {
  const { store } = app;
  const sectionAsked = (request: SectionRequest | PreviewRequest) =>
    getTaughtSection(store.db, actorOf(request), readId(request.params.id));

  app.get('/sections/:id/roster', INSTRUCTOR, async (request: SectionRequest, reply) =>
    rosterPage(reply, {
      section: await sectionAsked(request),
      values: {},
      problems: {},
      lines: [],
      notes: [],
    }),
  );

  app.post('/sections/:id/roster', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    const form = readForm(rosterForm, request.body);
    const refuse = (parts: Refusal) =>
      rosterPage(reply.code(422), {
        section,
        values: form.values,
        problems: {},
        lines: [],
        notes: [],
        ...parts,
      });
    const neither = { problems: { file: 'Choose a file, or paste the list.' } };
    if (!form.ok) return refuse(neither);
    const { file, pasted } = form.value;
    if (file && pasted) return refuse({ problems: { file: 'Choose a file or paste the list, not both.' } });
    if (pasted && Buffer.byteLength(pasted) >= UPLOAD_BYTES)
      throw new AppError('too-large', 'The pasted list is too large: 1 MB is the most. Nothing was saved.');
    if (!file && !pasted) return refuse(neither);

    const read = file && isZip(file) ? await readZip(Buffer.from(file), today()) : readList(file, pasted);
    if (!('classes' in read)) return refuse(read);
    // What cannot be taken whatever is chosen is said now, not after a preview.
    for (const { rows, sourcedId } of read.classes) {
      const planned = await planRoster(store.db, actorOf(request), section.id, rows);
      if ('problems' in planned)
        return refuse({
          lines: planned.problems.map((one) => (sourcedId === null ? one : { ...one, file: 'users.csv' })),
          notes: read.notes,
        });
    }
    const id = await keepPreview(store, actorOf(request), section.id, read, app.clock());
    return reply.redirect(`/sections/${section.id}/roster/${id}`, 303);
  });

  app.get('/sections/:id/roster/:previewId', INSTRUCTOR, async (request: PreviewRequest, reply) => {
    const chosen = (request.query as { class?: string } | undefined)?.class;
    return previewPage(request, reply, chosen, []);
  });

  app.post('/sections/:id/roster/:previewId', INSTRUCTOR, async (request: PreviewRequest, reply) => {
    const actor = actorOf(request);
    const section = await sectionAsked(request);
    const body = (request.body ?? {}) as Values;
    const read = await getPreview(store, actor, section.id, request.params.previewId);
    const one = classOf(read, body.class);
    const drop = new Set(
      Object.keys(body).flatMap((name) => {
        const [, id] = /^drop-(\d{1,15})$/.exec(name) ?? [];
        return id === undefined ? [] : [Number(id)];
      }),
    );
    const done = await takeRoster(
      store,
      actor,
      section.id,
      {
        ...{ previewId: request.params.previewId, rows: one.rows, of: one, drop },
        fingerprint: body.fingerprint ?? '',
      },
      app.clock(),
    );
    if ('changedSince' in done)
      return previewPage(request, reply.code(409), body.class, [
        'The roster changed since this was shown, so nothing was done. Look at it again, as it would be now.',
      ]);
    return reply.page('sections/roster-loaded', {
      title: 'Roster loaded',
      ...{ section, taken: done.taken, notes: read.notes },
    });
  });

  function today(): string {
    return app.clock().toISOString().slice(0, 10);
  }

  async function previewPage(
    request: PreviewRequest,
    reply: FastifyReply,
    chosen: string | undefined,
    warnings: readonly string[],
  ) {
    const actor = actorOf(request);
    const section = await sectionAsked(request);
    const read = await getPreview(store, actor, section.id, request.params.previewId);
    const one = classOf(read, chosen);
    const planned = await planRoster(store.db, actor, section.id, one.rows);
    if ('problems' in planned)
      return rosterPage(reply.code(422), {
        section,
        values: {},
        problems: {},
        lines: planned.problems,
        notes: read.notes,
      });
    return reply.page('sections/roster-preview', {
      title: 'Look at the roster first',
      ...{ section, warnings, notes: read.notes, previewId: request.params.previewId },
      classes: read.classes.map(({ title, rows }, index) => ({ index, title, students: rows.length })),
      chosen: read.classes.indexOf(one),
      teachers: one.teachers,
      ...sorted(planned.plan),
    });
  }
}

/** The classes of a zip. */
async function readZip(bytes: Buffer, today: string): Promise<ReadRoster | Refusal> {
  let files: ReadonlyMap<string, Buffer>;
  try {
    files = await unzip(bytes);
  } catch (error) {
    if (!(error instanceof ZipProblem)) throw error;
    const office = bytes.includes('[Content_Types].xml');
    return { problems: { file: office ? SPREADSHEET : error.message } };
  }
  if (files.has('[Content_Types].xml')) return { problems: { file: SPREADSHEET } };
  const read = readOneRoster(files, today);
  return read.ok ? read : { lines: read.problems };
}

const SPREADSHEET = 'This is a spreadsheet’s own file. Save the spreadsheet as CSV and choose that file.';

function readList(file: Uint8Array | undefined, pasted: string | undefined): ReadRoster | Refusal {
  const decoded = file ? decodeRoster(file) : { text: pasted ?? '', notes: [] };
  if (!decoded)
    return {
      problems: { file: 'This is not a text file. Save the spreadsheet as CSV and choose that file.' },
    };
  const read = readRosterCsv(decoded.text);
  const notes = [...decoded.notes, ...read.notes];
  if (!read.ok) return { lines: read.problems, notes };
  return { classes: [{ sourcedId: null, title: 'the list', rows: read.rows, teachers: [] }], notes };
}

function classOf(read: ReadRoster, chosen: string | undefined): ReadRoster['classes'][number] {
  const [first] = read.classes;
  const one = read.classes[Number(chosen ?? 0)] ?? first;
  if (one === undefined) throw new Error('A roster without a class was kept.');
  return one;
}

/** Names a spreadsheet would take for a formula are kept as they are and pointed out: our exports write them so that none does. */
const FORMULA = /^[=+\-@\t\r]/;

function sorted({ students, missing, fingerprint }: RosterPlan) {
  const shown = (list: RosterPlan['students']) =>
    list.map(({ row, differs }) => ({
      ...{ line: row.line, number: row.studentNumber, email: row.email ?? '', differs },
      name: `${row.familyName}, ${row.givenName}`,
      odd: FORMULA.test(row.givenName) || FORMULA.test(row.familyName),
    }));
  return {
    added: shown(students.filter(({ onRoster }) => !onRoster)),
    changed: shown(students.filter(({ differs, mayChange }) => differs.length > 0 && mayChange)),
    leftAlone: shown(students.filter(({ differs, mayChange }) => differs.length > 0 && !mayChange)),
    same: students.filter(({ onRoster, differs }) => onRoster && differs.length === 0).length,
    ...{ missing, fingerprint },
  };
}

function rosterPage(reply: FastifyReply, data: Omit<RosterView, 'title'>): FastifyReply {
  const view: RosterView = { title: 'Load a roster', ...data };
  return reply.page('sections/roster', view);
}
