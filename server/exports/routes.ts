import { createHash } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { listCompetencies, listPeople, listProgramSections } from '../competencies/index.ts';
import { writeTransaction } from '../database/transaction.ts';
import { listPastExports, noteExport } from '../disclosures/index.ts';
import { addressOf, getProgram } from '../program/index.ts';
import { actorOf } from '../web/access.ts';
import { type Problems, readForm, requiredText, type Values } from '../web/forms.ts';
import { dayWords, timeWords } from '../web/words/index.ts';
import { type ExportForm, type ExportSource, FORM_NAMES, FORMS, type FormName, streamOf } from './forms.ts';
import { readScope, type Scope } from './scope.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;

const exportForm = z.object({
  form: z.enum(FORM_NAMES, 'Choose a file.'),
  competencies: z.string().max(140).default(''),
  people: z.string().max(140).default(''),
  asOf: z.string().max(10).default(''),
  recipient: requiredText('Write who it is for.'),
  purpose: requiredText('Write what it is for.'),
});

/** Records in forms that others accept. Each is written down before its first byte goes out: who, what, to whom, why, about whom. */
export function exportsRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/exports', COORDINATOR, async (request, reply) => {
    const asked = (request.query ?? {}) as Values;
    const text = (name: string) => (typeof asked[name] === 'string' ? asked[name] : '');
    const values = {
      ...{ form: text('form') || 'standings', competencies: text('competencies') },
      ...{ people: text('people'), asOf: text('asOf') },
    };
    return page(request, reply, values, {});
  });

  // A POST with a token, though it only reads the record: a link on somebody else's page must not be able to make one in a coordinator's name.
  app.post('/exports', COORDINATOR, async (request, reply) => {
    const actor = actorOf(request);
    const now = app.clock();
    const read = readForm(exportForm, request.body);
    if (!read.ok) return page(request, reply.code(422), read.values, read.problems);
    const { form, recipient, purpose } = read.value;
    const { scope, problems } = await readScope(store.db, actor, read.value, now);
    if (scope === null) return page(request, reply.code(422), read.values, problems);
    const { words, type, extension, pieces, needs } = FORMS[form] as ExportForm;
    const unfit = needs === 'section' ? sectionProblems(scope, read.value.asOf) : {};
    if (Object.keys(unfit).length > 0) return page(request, reply.code(422), read.values, unfit);
    const at = now.toISOString();
    const program = await getProgram(store.db);
    const exportId = await writeTransaction(store, (trx) =>
      noteExport(trx, actor, {
        ...{ what: `${words}: ${scope.words}`, at, form, asOf: scope.asOf, recipient, purpose },
        scope: scope.kept,
        studentIds: needs === 'nobody' ? [] : scope.studentIds,
      }),
    );
    const source: ExportSource = {
      ...{ store, db: store.db, ...scope, exportedAt: at, exportId, signingKeys: app.signingKeys },
      ...{ program, address: addressOf(program, request) },
    };
    const hash = createHash('sha256');
    let bytes = 0;
    const counted = async function* () {
      for await (const piece of pieces(source)) {
        hash.update(piece.text);
        bytes += Buffer.byteLength(piece.text);
        yield piece;
      }
    };
    const stream = streamOf(counted(), async (rows) => {
      const ended = {
        export_id: exportId,
        rows,
        bytes,
        sha256: hash.digest('hex'),
        at: app.clock().toISOString(),
      };
      await writeTransaction(store, (trx) => trx.insertInto('export_ends').values(ended).execute());
    });
    stream.on('error', (error) => request.log.error({ err: error, exportId }, 'an export was cut off'));
    const name = `dialbench-${form}-${scope.asOf.slice(0, 10)}.${extension}`;
    return reply
      .type(type)
      .header('content-disposition', `attachment; filename="${name}"`)
      .header('cache-control', 'no-store')
      .send(stream);
  });

  async function page(request: FastifyRequest, reply: FastifyReply, values: Values, problems: Problems) {
    const actor = actorOf(request);
    const competencies = await listCompetencies(store.db, actor, app.clock());
    const sections = await listProgramSections(store.db);
    const courses = [...new Set(competencies.map(({ course }) => course))].filter((course) => course !== '');
    const number = /^student-(\d+)$/.exec(values.people ?? '')?.[1];
    const [student] = number === undefined ? [] : await listPeople(store.db, [Number(number)]);
    const past = await listPastExports(store.db);
    return reply.page('exports/exports', {
      title: 'Exports',
      ...{ values, problems },
      forms: FORM_NAMES.map((name: FormName) => ({ value: name, text: FORMS[name].words })),
      hints: FORM_NAMES.map((name: FormName) => ({ words: FORMS[name].words, hint: FORMS[name].hint })),
      competencies: [
        { value: '', text: 'every competency in use' },
        ...courses.map((course) => ({ value: `course-${course}`, text: `course: ${course}` })),
        ...competencies.map(({ id, code, title }) => ({
          value: `competency-${id}`,
          text: `${code}, ${title}`,
        })),
      ],
      people: [
        { value: '', text: 'the whole program' },
        ...(student === undefined
          ? []
          : [
              {
                value: `student-${student.studentId}`,
                text: `${student.givenName} ${student.familyName}, ${student.studentNumber}`,
              },
            ]),
        ...sections.map(({ id, name, term }) => ({ value: `section-${id}`, text: `${name}, ${term}` })),
      ],
      past: past.map((one) => ({
        ...one,
        when: timeWords(one.at),
        asOfWords: one.asOf === null ? '' : dayWords(one.asOf.slice(0, 10)),
      })),
    });
  }
}

/** What keeps a file that is about one section as it stands now from being made. */
function sectionProblems({ sectionId }: Scope, asOf: string): Problems {
  return {
    ...(sectionId === null ? { people: 'Choose a section: this file is about one.' } : {}),
    ...(asOf.trim() === '' ? {} : { asOf: 'Scores are as they stand now. Leave the day blank.' }),
  };
}
