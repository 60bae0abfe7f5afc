import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { DateTime } from 'luxon';
import { z } from 'zod';
import { listCompetencies, listProgramSections, listProgramStudents } from '../competencies/index.ts';
import { writeTransaction } from '../database/transaction.ts';
import { noteExport } from '../disclosures/index.ts';
import { getProgram } from '../program/index.ts';
import { transcriptContent } from '../transcripts/index.ts';
import { actorOf } from '../web/access.ts';
import { type Problems, readForm, requiredText, type Values } from '../web/forms.ts';
import { dayWords, timeWords } from '../web/words/index.ts';
import { crosswalk } from './crosswalk.ts';
import { folderOf, sampleOf, studentPdf } from './folder.ts';
import { sectionHours } from './hours.ts';
import { listImprovements, noteImprovement } from './notes.ts';
import { assessorRegister, enterAssessor, gaugeRegister } from './registers.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;
/** A PDF for each is made in memory. */
const MOST_SAMPLED = 40;

const isDay = (text: string) => /^\d{4}-\d{2}-\d{2}$/.test(text) && DateTime.fromISO(text).isValid;
const assessorForm = z
  .object({
    person: z
      .string('Choose who.')
      .regex(/^[1-9]\d{0,9}$/, 'Choose who.')
      .transform(Number),
    basis: requiredText('Write on what ground, such as a certificate with its number.', 500),
    fromOn: z.string('Choose a day.').trim().refine(isDay, 'Choose a day.'),
    untilOn: z
      .string()
      .trim()
      .refine((text) => text === '' || isDay(text), 'Choose a day, or leave it blank.')
      .default(''),
  })
  .refine(({ fromOn, untilOn }) => untilOn === '' || untilOn >= fromOn, {
    message: 'The last day comes before the first.',
    path: ['untilOn'],
  });
const improvementForm = z.object({
  found: requiredText('Write what was poor, with its figures.', 1000),
  changed: requiredText('Write what was changed.', 1000),
});
const folderForm = z.object({
  section: z.string().default(''),
  count: z.coerce
    .number('Write how many students.')
    .int('Write how many students.')
    .min(1, 'Write how many students.')
    .max(MOST_SAMPLED, `At most ${MOST_SAMPLED} at a time.`),
  word: requiredText('Write any word. The same word draws the same students again.', 60),
  recipient: requiredText('Write who it is for.'),
  purpose: requiredText('Write what it is for.'),
});

/** What an accrediting visit asks for. */
export function visitRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/visit', COORDINATOR, (request, reply) => page(request, reply, {}, {}));

  app.post('/visit/assessors', COORDINATOR, async (request, reply) => {
    const form = readForm(assessorForm, request.body);
    if (!form.ok) return page(request, reply.code(422), form.values, form.problems);
    const { person: personId, basis, fromOn, untilOn } = form.value;
    const entry = { personId, basis, fromOn, untilOn: untilOn || null, at: app.clock().toISOString() };
    const isThere = await writeTransaction(store, (trx) => enterAssessor(trx, actorOf(request), entry));
    if (!isThere) return page(request, reply.code(422), form.values, { person: 'Choose who.' });
    return reply.redirect('/visit?said=assessor-entered', 303);
  });

  app.post('/visit/improvements', COORDINATOR, async (request, reply) => {
    const form = readForm(improvementForm, request.body);
    if (!form.ok) return page(request, reply.code(422), form.values, form.problems);
    const note = { ...form.value, at: app.clock().toISOString() };
    await writeTransaction(store, (trx) => noteImprovement(trx, actorOf(request), note));
    return reply.redirect('/visit?said=improvement-noted', 303);
  });

  app.post('/visit/folder', COORDINATOR, async (request, reply) => {
    const actor = actorOf(request);
    const now = app.clock();
    const at = now.toISOString();
    const form = readForm(folderForm, request.body);
    if (!form.ok) return page(request, reply.code(422), form.values, form.problems);
    const { count, word, recipient, purpose } = form.value;
    const sections = await listProgramSections(store.db);
    const section = sections.find(({ id }) => String(id) === form.value.section);
    if (section === undefined && form.value.section !== '')
      return page(request, reply.code(422), form.values, { section: 'Choose a section.' });
    const ids = await listProgramStudents(store.db, section?.id ?? null);
    const drawn = sampleOf(await studentsOf(ids), count, word);
    if (drawn.length === 0)
      return page(request, reply.code(422), form.values, { section: 'There is no student to draw.' });
    const { name: program } = await getProgram(store.db);
    const files: [string, Buffer][] = [];
    for (const student of drawn) {
      const given = { studentId: student.id, asOf: at, program, now };
      const content = await transcriptContent(store.db, actor, given);
      files.push([`${student.number}.pdf`, await studentPdf(store.db, student, content)]);
    }
    const whose = section === undefined ? 'the whole program' : `${section.name}, ${section.term}`;
    await writeTransaction(store, (trx) =>
      noteExport(trx, actor, {
        ...{
          what: `Folder for a visit: ${drawn.length} of ${ids.length} students of ${whose}, drawn by “${word}”`,
        },
        ...{ at, rows: drawn.length, asOf: at, recipient, purpose, studentIds: drawn.map(({ id }) => id) },
      }),
    );
    return reply
      .type('application/zip')
      .header('content-disposition', `attachment; filename="visit-${at.slice(0, 10)}.zip"`)
      .header('cache-control', 'no-store')
      .send(await folderOf(files, now));
  });

  async function studentsOf(ids: readonly number[]) {
    if (ids.length === 0) return [];
    const rows = await store.db
      .selectFrom('people')
      .where('role', '=', 'student')
      .select(['id', 'uuid', 'given_name', 'family_name', 'student_number'])
      .execute();
    const wanted = new Set(ids);
    return rows
      .filter(({ id }) => wanted.has(id))
      .map(({ id, uuid, given_name, family_name, student_number }) => ({
        ...{ id, uuid, name: `${given_name} ${family_name}`, number: student_number ?? '' },
      }));
  }

  async function page(request: FastifyRequest, reply: FastifyReply, values: Values, problems: Problems) {
    const now = app.clock();
    const today = now.toISOString().slice(0, 10);
    const competencies = await listCompetencies(store.db, actorOf(request), now);
    const inUse = competencies.filter(({ retiredAt }) => retiredAt === null);
    const sections = await sectionHours(store.db);
    const day = (text: string | null) => (text === null ? '' : dayWords(text.slice(0, 10)));
    return reply.page('visit/visit', {
      title: 'For a visit',
      wide: true,
      values: { count: '5', word: today, ...values },
      problems,
      crosswalk: await crosswalk(store.db, inUse),
      sections,
      assessors: (await assessorRegister(store.db)).map((one) => ({
        ...one,
        ...{ first: day(one.firstSigned), last: day(one.lastSigned), substitute: day(one.substituteUntil) },
        entries: one.entries.map(({ basis, fromOn, untilOn }) => ({
          basis,
          dates: `from ${day(fromOn)}${untilOn === null ? '' : ` to ${day(untilOn)}`}`,
        })),
      })),
      gauges: (await gaugeRegister(store.db, today)).map((one) => ({
        ...{ ...one, checked: day(one.checkedOn), due: day(one.dueOn) },
      })),
      improvements: (await listImprovements(store.db)).map((one) => ({ ...one, when: timeWords(one.at) })),
    });
  }
}
