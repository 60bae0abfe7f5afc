import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { writeTransaction } from '../database/transaction.ts';
import {
  type Assignment,
  type AssignmentTerms,
  assignSheet,
  getAssignment,
  getSheet,
  giveExtraTime,
  listExtensions,
  listSectionsOf,
  withdrawSheet,
} from '../labsheets/index.ts';
import { getTaughtSection, getTaughtStudent, listRoster, listTaughtSections } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { instantOf, localTimeOf, localWords } from '../web/local-time.ts';
import { sectionMeant } from './section-meant.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SheetRequest = FastifyRequest<{ Params: { id: string } }>;
type AssignedRequest = FastifyRequest<{ Params: { id: string; sheetId: string } }>;

/** What is offered where nothing was said yet. */
const USUAL_TERMS: Values = { time: '23:59', late: '10', lateDays: '7', counts: 'best' };

const text = z.string().trim().default('');
const termsForm = z.object({
  day: text,
  time: text,
  late: text,
  lateDays: text,
  counts: z.enum(['best', 'last']).catch('best'),
});
const extraForm = z.object({ personId: text, day: text, time: text, reason: text });

export function assignRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/lab-sheets/:id/assign', INSTRUCTOR, async (request: SheetRequest, reply) => {
    const meant = sectionMeant(request);
    const chosen: Values = meant === null ? {} : { [`section-${meant}`]: 'on' };
    return assignPage(request, reply, { ...USUAL_TERMS, ...chosen }, {});
  });

  app.post('/lab-sheets/:id/assign', INSTRUCTOR, async (request: SheetRequest, reply) => {
    const actor = actorOf(request);
    const sheet = await getSheet(store.db, actor, readId(request.params.id));
    const form = readForm(termsForm, request.body);
    const sections = (await listTaughtSections(store.db, actor)).filter(
      ({ id }) => form.values[`section-${id}`] === 'on',
    );
    const problems: Problems = { ...form.problems };
    if (sections.length === 0) problems.sections = 'Choose at least one section.';
    if (!form.ok) return assignPage(request, reply.code(422), form.values, problems);
    const terms = sections.map((section) => readTerms(form.value, section.timeZone, problems));
    if (Object.keys(problems).length > 0) return assignPage(request, reply.code(422), form.values, problems);
    const at = app.clock().toISOString();
    await writeTransaction(store, async (trx) => {
      for (const [index, section] of sections.entries())
        await assignSheet(trx, actor, {
          ...{ sectionId: section.id, sheetId: sheet.id, at },
          terms: terms[index] as AssignmentTerms,
        });
    });
    return reply.redirect(`/sections/${sections[0]?.id}?said=sheet-assigned`, 303);
  });

  app.get('/sections/:id/sheets/:sheetId', INSTRUCTOR, async (request: AssignedRequest, reply) => {
    const { section, assignment } = await assignedAsked(request);
    return assignedPage(request, reply, termValues(assignment, section.timeZone), {});
  });

  app.post('/sections/:id/sheets/:sheetId', INSTRUCTOR, async (request: AssignedRequest, reply) => {
    const { section, assignment } = await assignedAsked(request);
    const form = readForm(termsForm, request.body);
    const problems: Problems = { ...form.problems };
    const terms = form.ok ? readTerms(form.value, section.timeZone, problems) : null;
    if (terms === null || Object.keys(problems).length > 0)
      return assignedPage(request, reply.code(422), form.values, problems);
    const { sectionId, sheetId } = assignment;
    const at = app.clock().toISOString();
    await writeTransaction(store, (trx) =>
      assignSheet(trx, actorOf(request), { sectionId, sheetId, terms, at }),
    );
    return reply.redirect(`/sections/${sectionId}/sheets/${sheetId}?said=terms-kept`, 303);
  });

  app.post('/sections/:id/sheets/:sheetId/withdraw', INSTRUCTOR, async (request: AssignedRequest, reply) => {
    const { assignment } = await assignedAsked(request);
    const { sectionId, sheetId } = assignment;
    await writeTransaction(store, (trx) => withdrawSheet(trx, sectionId, sheetId));
    return reply.redirect(`/sections/${sectionId}?said=sheet-withdrawn`, 303);
  });

  app.post(
    '/sections/:id/sheets/:sheetId/extra-time',
    INSTRUCTOR,
    async (request: AssignedRequest, reply) => {
      const actor = actorOf(request);
      const { section, assignment } = await assignedAsked(request);
      const { sectionId, sheetId } = assignment;
      const form = readForm(extraForm, request.body);
      const value = form.ok ? form.value : { personId: '', day: '', time: '', reason: '' };
      const problems: Problems = {};
      const dueAt = instantOf({ day: value.day, time: value.time || '23:59' }, section.timeZone);
      if (dueAt === null) problems['extra-day'] = 'Choose a day, and a time like 23:59.';
      if (value.reason === '' || value.reason.length > 300)
        problems['extra-reason'] = 'Say why, in a few words.';
      const student = /^[1-9]\d{0,14}$/.test(value.personId)
        ? await getTaughtStudent(store.db, actor, sectionId, Number(value.personId))
        : null;
      if (student === null) problems['extra-person'] = 'Choose a student.';
      if (student === null || dueAt === null || Object.keys(problems).length > 0)
        return assignedPage(
          request,
          reply.code(422),
          { ...termValues(assignment, section.timeZone), ...extraValues(value) },
          problems,
        );
      const at = app.clock().toISOString();
      await writeTransaction(store, (trx) =>
        giveExtraTime(trx, actor, {
          sectionId,
          sheetId,
          personId: student.id,
          dueAt,
          reason: value.reason,
          at,
        }),
      );
      return reply.redirect(`/sections/${sectionId}/sheets/${sheetId}?said=extra-time-given`, 303);
    },
  );

  async function assignedAsked(request: AssignedRequest) {
    const section = await getTaughtSection(store.db, actorOf(request), readId(request.params.id));
    return { section, assignment: await getAssignment(store.db, section.id, readId(request.params.sheetId)) };
  }

  async function assignPage(request: SheetRequest, reply: FastifyReply, values: Values, problems: Problems) {
    const actor = actorOf(request);
    const sheet = await getSheet(store.db, actor, readId(request.params.id));
    const sections = (await listTaughtSections(store.db, actor)).filter(
      ({ archivedAt }) => archivedAt === null,
    );
    // With one section there is nothing to choose.
    const [only] = sections.length === 1 ? sections : [];
    const chosen = only === undefined ? values : { ...values, [`section-${only.id}`]: 'on' };
    const assignedTo = new Set(await listSectionsOf(store.db, sheet.id));
    return reply.page('teaching/assign', {
      title: `Assign “${sheet.title}”`,
      ...{ sheet, sections, assignedTo, problems },
      values: chosen,
    });
  }

  async function assignedPage(
    request: AssignedRequest,
    reply: FastifyReply,
    values: Values,
    problems: Problems,
  ) {
    const { section, assignment } = await assignedAsked(request);
    const roster = await listRoster(store.db, actorOf(request), section.id);
    const extensions = await listExtensions(store.db, section.id, assignment.sheetId);
    return reply.page('teaching/assigned', {
      title: assignment.title,
      section,
      assignment,
      due: assignment.dueAt === null ? null : localWords(assignment.dueAt, section.timeZone),
      values,
      problems,
      students: roster.map((one) => {
        const extra = extensions.get(one.id);
        return {
          id: one.id,
          name: `${one.family_name}, ${one.given_name}`,
          extra: extra === undefined ? null : { ...extra, due: localWords(extra.dueAt, section.timeZone) },
        };
      }),
    });
  }
}

function readTerms(form: z.output<typeof termsForm>, zone: string, problems: Problems): AssignmentTerms {
  const dueAt = form.day === '' ? null : instantOf({ day: form.day, time: form.time || '23:59' }, zone);
  if (form.day !== '' && dueAt === null)
    problems.day = 'Choose a day, and a time like 23:59; or leave the day blank.';
  const late = form.late === '' ? 0 : Number(form.late.replace(',', '.'));
  if (!(late >= 0 && late <= 100)) problems.late = 'Write a number from 0 to 100.';
  const days =
    form.lateDays === '' ? null : /^\d{1,3}$/.test(form.lateDays) ? Number(form.lateDays) : Number.NaN;
  if (days !== null && !(days <= 365)) problems.lateDays = 'Write a whole number of days, or leave it blank.';
  return { dueAt, latePercent: late, lateDays: days, counts: form.counts };
}

function termValues({ dueAt, latePercent, lateDays, counts }: Assignment, zone: string): Values {
  const due = dueAt === null ? { day: '', time: '23:59' } : localTimeOf(dueAt, zone);
  return { ...due, late: String(latePercent), lateDays: lateDays === null ? '' : String(lateDays), counts };
}

function extraValues({ personId, day, time, reason }: z.output<typeof extraForm>): Values {
  return { 'extra-person': personId, 'extra-day': day, 'extra-time': time, 'extra-reason': reason };
}
