import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { studyPlotSvg } from '../../views/drawing/study-plot.ts';
import { writeTransaction } from '../database/transaction.ts';
import { noteExport } from '../disclosures/index.ts';
import { getTaughtSection, listRoster } from '../sections/index.ts';
import { listEngines } from '../shop/index.ts';
import { actorOf } from '../web/access.ts';
import { spreadsheetCsv } from '../web/csv.ts';
import { NotFound } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { type CsvProblem, orderOf, type PlacedReading, readPlan, readReading, readStudyCsv } from './plan.ts';
import { addStudy, getStudy, listReadings, listStudies, putReadings, type Study } from './queries.ts';
import { missingOf, reportOf } from './report.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;
type StudyRequest = FastifyRequest<{ Params: { id: string; studyId: string } }>;
type SheetRequest = FastifyRequest<{
  Params: { id: string; studyId: string; person: string; repeat: string };
}>;

const anything = z.record(z.string(), z.unknown());

export function gaugeStudyRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();
  const sectionAsked = (request: SectionRequest) =>
    getTaughtSection(store.db, actorOf(request), readId(request.params.id));
  const studyAsked = async (request: StudyRequest | SheetRequest) => {
    const section = await sectionAsked(request);
    return { section, study: await getStudy(store.db, section.id, readId(request.params.studyId)) };
  };

  app.get('/sections/:id/gauge-studies', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    const studies = await Promise.all(
      (await listStudies(store.db, section.id)).map(async (study) => ({
        ...study,
        entered: (await listReadings(store.db, study.id)).length,
        all: study.parts.length * study.people.length * study.repeats,
      })),
    );
    return reply.page('gauge-study/list', { title: 'Gauge studies', section, studies });
  });

  app.get('/sections/:id/gauge-studies/new', INSTRUCTOR, async (request: SectionRequest, reply) =>
    newPage(request, reply, { unit: 'in', graduation: '0.001', repeats: '3' }, {}, []),
  );

  app.post('/sections/:id/gauge-studies', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const actor = actorOf(request);
    const section = await sectionAsked(request);
    const { values } = readForm(anything, request.body);
    const { file } = (request.body ?? {}) as { file?: unknown };
    const sent =
      file instanceof Uint8Array && file.length > 0 ? Buffer.from(file).toString('utf8') : (values.csv ?? '');
    const refuse = (problems: Problems, lines: readonly CsvProblem[] = []) =>
      newPage(request, reply.code(422), values, problems, lines);
    const csv = sent.trim() === '' ? null : readStudyCsv(sent);
    if (csv !== null && 'problems' in csv)
      return refuse({ csv: 'The readings could not be taken.' }, csv.problems);
    const names =
      csv === null
        ? { parts: await partsOf(values), people: await peopleOf(request, values) }
        : { parts: csv.parts, people: csv.people };
    const { plan, problems } = readPlan(values, names, csv !== null);
    if (Object.keys(problems).length > 0) return refuse(problems);
    const id = await writeTransaction(store, async (trx) => {
      const made = await addStudy(
        trx,
        actor,
        section.id,
        csv === null ? plan : { ...plan, repeats: csv.repeats },
        now(),
      );
      if (csv !== null) await putReadings(trx, actor, made, csv.readings, now());
      return made;
    });
    return reply.redirect(`/sections/${section.id}/gauge-studies/${id}`, 303);
  });

  app.get('/sections/:id/gauge-studies/:studyId', INSTRUCTOR, async (request: StudyRequest, reply) => {
    const { section, study } = await studyAsked(request);
    const readings = await listReadings(store.db, study.id);
    const report = reportOf(study, readings);
    return reply.page('gauge-study/study', {
      title: study.title,
      ...{ section, study, report },
      rounds: missingOf(study, readings),
      plots: report === null ? null : plotsOf(study, readings, report.study.ranges?.upper ?? null),
      outside: report?.study.ranges?.outside.map(({ part, appraiser, range }) => ({
        part: study.parts[Number(part)],
        person: study.people[Number(appraiser)],
        range: Number(range.toPrecision(4)),
      })),
    });
  });

  app.get('/sections/:id/gauge-studies/:studyId/sheets', INSTRUCTOR, async (request: StudyRequest, reply) => {
    const { section, study } = await studyAsked(request);
    const sheets = Array.from({ length: study.repeats }, (_, repeat) =>
      study.people.map((name, person) => ({
        ...{ name, round: repeat + 1 },
        parts: orderOf(study.seed, study.parts.length, person, repeat).map((part) => study.parts[part]),
      })),
    ).flat();
    return reply.page('gauge-study/sheets', { title: `Sheets of ${study.title}`, section, study, sheets });
  });

  app.get(
    '/sections/:id/gauge-studies/:studyId/sheets/:person/:repeat',
    INSTRUCTOR,
    async (request: SheetRequest, reply) => {
      const { study, place } = await sheetAsked(request);
      const readings = await listReadings(store.db, study.id);
      const values: Values = {};
      for (const { part, person, repeat, value } of readings)
        if (person === place.person && repeat === place.repeat) values[`part-${part}`] = String(value);
      return sheetPage(request, reply, values, {});
    },
  );

  app.post(
    '/sections/:id/gauge-studies/:studyId/sheets/:person/:repeat',
    INSTRUCTOR,
    async (request: SheetRequest, reply) => {
      const { section, study, place } = await sheetAsked(request);
      const { values } = readForm(anything, request.body);
      const problems: Problems = {};
      const before = new Map(
        (await listReadings(store.db, study.id))
          .filter((one) => one.person === place.person && one.repeat === place.repeat)
          .map(({ part, value }) => [part, value]),
      );
      const changed = study.parts.flatMap((_, part) => {
        const read = readReading(values[`part-${part}`] ?? '', study.unit);
        if (read === undefined)
          problems[`part-${part}`] = `Write a length in ${study.unit}, or leave it blank.`;
        return read === undefined || read === (before.get(part) ?? null)
          ? []
          : [{ ...place, part, value: read }];
      });
      if (Object.keys(problems).length > 0) return sheetPage(request, reply.code(422), values, problems);
      await writeTransaction(store, (trx) => putReadings(trx, actorOf(request), study.id, changed, now()));
      return reply.redirect(`/sections/${section.id}/gauge-studies/${study.id}?said=readings-entered`, 303);
    },
  );

  // A POST, because what leaves the house is written down.
  app.post(
    '/sections/:id/gauge-studies/:studyId/export',
    INSTRUCTOR,
    async (request: StudyRequest, reply) => {
      const { study } = await studyAsked(request);
      const at = now();
      const rows = [...(await listReadings(store.db, study.id))]
        .sort((a, b) => a.part - b.part || a.person - b.person || a.repeat - b.repeat)
        .map(({ part, person, repeat, value }) => [
          study.parts[part] ?? '',
          study.people[person] ?? '',
          repeat + 1,
          value,
        ]);
      await writeTransaction(store, (trx) =>
        noteExport(trx, actorOf(request), {
          what: `readings of gauge study ${study.id}, CSV`,
          rows: rows.length,
          at,
        }),
      );
      return reply
        .type('text/csv; charset=utf-8')
        .header('content-disposition', `attachment; filename="gauge-study-${study.id}.csv"`)
        .send(spreadsheetCsv(['part', 'appraiser', 'trial', 'value'], rows));
    },
  );

  async function sheetAsked(request: SheetRequest) {
    const asked = await studyAsked(request);
    const [person, repeat] = [Number(request.params.person) - 1, Number(request.params.repeat) - 1];
    const { people, repeats } = asked.study;
    if (people[person] === undefined || !Number.isInteger(repeat) || repeat < 0 || repeat >= repeats)
      throw new NotFound();
    return { ...asked, place: { person, repeat } };
  }

  async function sheetPage(request: SheetRequest, reply: FastifyReply, values: Values, problems: Problems) {
    const { section, study, place } = await sheetAsked(request);
    return reply.page('gauge-study/sheet', {
      title: `${study.people[place.person]}, round ${place.repeat + 1}`,
      ...{ section, study, place, values, problems },
      lines: orderOf(study.seed, study.parts.length, place.person, place.repeat).map((part) => ({
        part,
        name: study.parts[part],
      })),
    });
  }

  async function newPage(
    request: SectionRequest,
    reply: FastifyReply,
    values: Values,
    problems: Problems,
    lines: readonly CsvProblem[],
  ) {
    const section = await sectionAsked(request);
    const roster = await listRoster(store.db, actorOf(request), section.id);
    const engines = (await listEngines(store.db)).filter(({ archivedAt }) => archivedAt === null);
    return reply.page('gauge-study/new', {
      title: 'New gauge study',
      ...{ section, values, problems, lines, engines },
      students: roster.map((one) => ({ id: one.id, name: `${one.given_name} ${one.family_name}` })),
    });
  }

  /** The parts as they were named, or every lobe of the engine that was chosen. */
  async function partsOf(values: Values): Promise<readonly string[]> {
    const named = linesOf(values.parts);
    if (named.length > 0) return named;
    const engine = (await listEngines(store.db)).find(({ id }) => String(id) === values.engine);
    return engine === undefined
      ? []
      : Array.from({ length: engine.pumps }, (_, index) => `${engine.number} position ${index + 1}`);
  }

  async function peopleOf(request: SectionRequest, values: Values): Promise<readonly string[]> {
    const section = await sectionAsked(request);
    const roster = await listRoster(store.db, actorOf(request), section.id);
    const ticked = roster
      .filter(({ id }) => values[`student-${id}`] === 'on')
      .map((one) => `${one.given_name} ${one.family_name}`);
    return [...ticked, ...linesOf(values.others)];
  }
}

function linesOf(text: string | undefined): readonly string[] {
  return (text ?? '')
    .split(/\r?\n/)
    .map((one) => one.trim())
    .filter((one) => one !== '');
}

function plotsOf(study: Study, readings: readonly PlacedReading[], limit: number | null) {
  const { parts, people, unit } = study;
  const ranges = parts.flatMap((_, part) =>
    people.map((__, person) => {
      const cell = readings
        .filter((one) => one.part === part && one.person === person)
        .map(({ value }) => value);
      return { part, person, value: Math.max(...cell) - Math.min(...cell) };
    }),
  );
  const plot = { parts, people, rule: null, joined: false };
  return [
    studyPlotSvg(
      { ...plot, values: readings, joined: true, axis: `readings, ${unit}` },
      {
        id: 'study-readings',
        title: 'Readings by part and person',
        description: 'Every reading; a line joins each person’s means.',
      },
    ),
    studyPlotSvg(
      {
        ...plot,
        values: ranges,
        axis: `range of the repeats, ${unit}`,
        rule: limit === null ? null : { value: limit, name: 'limit of ranges' },
      },
      {
        id: 'study-ranges',
        title: 'Ranges by part and person',
        description: 'The largest less the smallest reading of each part by each person.',
      },
    ),
  ];
}
