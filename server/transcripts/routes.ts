import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { endOfDay, listPeople } from '../competencies/index.ts';
import { writeTransaction } from '../database/transaction.ts';
import { addressOf, getProgram } from '../program/index.ts';
import { actorOf } from '../web/access.ts';
import { NotFound } from '../web/errors.ts';
import { type Problems, readForm, readId, requiredText, type Values } from '../web/forms.ts';
import { codeWords, readCode } from '../web/short-code.ts';
import { transcriptContent } from './content.ts';
import { transcriptPdf } from './pdf.ts';
import { CODE_LETTERS, findTranscript, keepTranscript, withdrawTranscript } from './queries.ts';
import { shownTranscript } from './shown.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;
type PersonRequest = FastifyRequest<{ Params: { id: string } }>;
type CodeRequest = FastifyRequest<{ Params: { code: string } }>;

const issueForm = z.object({
  asOf: z.string().max(10).default(''),
  recipient: requiredText('Write who it is for.'),
  purpose: requiredText('Write what it is for.'),
});
const withdrawForm = z.object({
  reason: requiredText('Write the reason. Whoever looks up the code reads it.', 500),
});

/** Transcripts as the coordinator gives them out. */
export function transcriptsRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/people/:id/transcript', COORDINATOR, (request: PersonRequest, reply) =>
    issuePage(request, reply, {}, {}),
  );

  app.post('/people/:id/transcript', COORDINATOR, async (request: PersonRequest, reply) => {
    const { studentId } = await personAsked(request);
    const actor = actorOf(request);
    const now = app.clock();
    const form = readForm(issueForm, request.body);
    if (!form.ok) return issuePage(request, reply.code(422), form.values, form.problems);
    const { asOf: day, recipient, purpose } = form.value;
    const asOf = day.trim() === '' ? now.toISOString() : endOfDay(day.trim(), now);
    if (asOf === null) {
      const problems = { asOf: 'Choose a day that is over, or leave it blank for now.' };
      return issuePage(request, reply.code(422), form.values, problems);
    }
    const { name: program } = await getProgram(store.db);
    const content = await transcriptContent(store.db, actor, { studentId, asOf, program, now });
    const code = await writeTransaction(store, (trx) =>
      keepTranscript(trx, actor, { studentId, content, recipient, purpose }),
    );
    return reply.redirect(`/transcripts/${code}?said=transcript-issued`, 303);
  });

  app.get('/transcripts/:code', COORDINATOR, (request: CodeRequest, reply) =>
    transcriptPage(request, reply, {}, {}),
  );

  app.get('/transcripts/:code/pdf', COORDINATOR, async (request: CodeRequest, reply) => {
    const transcript = await transcriptAsked(request);
    const file = await transcriptPdf(transcript, await verifyAt(request));
    return reply
      .type('application/pdf')
      .header('content-disposition', `attachment; filename="transcript-${transcript.code}.pdf"`)
      .header('cache-control', 'no-store')
      .send(file);
  });

  app.post('/transcripts/:code/withdraw', COORDINATOR, async (request: CodeRequest, reply) => {
    const { code } = await transcriptAsked(request);
    const form = readForm(withdrawForm, request.body);
    if (!form.ok) return transcriptPage(request, reply.code(422), form.values, form.problems);
    const given = { code, reason: form.value.reason, at: app.clock().toISOString() };
    await writeTransaction(store, (trx) => withdrawTranscript(trx, actorOf(request), given));
    return reply.redirect(`/transcripts/${code}?said=transcript-withdrawn`, 303);
  });

  async function personAsked(request: PersonRequest) {
    const id = readId(request.params.id);
    const student = await store.db
      .selectFrom('people')
      .where('id', '=', id)
      .where('role', '=', 'student')
      .select('id')
      .executeTakeFirst();
    const [person] = student === undefined ? [] : await listPeople(store.db, [id]);
    if (person === undefined) throw new NotFound();
    return person;
  }

  async function transcriptAsked(request: CodeRequest) {
    const code = readCode(request.params.code, CODE_LETTERS);
    const transcript = code === null ? null : await findTranscript(store.db, code);
    if (transcript === null) throw new NotFound();
    return transcript;
  }

  async function verifyAt(request: FastifyRequest) {
    return `${addressOf(await getProgram(store.db), request)}/verify`;
  }

  async function issuePage(request: PersonRequest, reply: FastifyReply, values: Values, problems: Problems) {
    const person = await personAsked(request);
    return reply.page('transcripts/issue', {
      title: `Transcript of ${person.givenName} ${person.familyName}`,
      ...{ person, values, problems },
    });
  }

  async function transcriptPage(
    request: CodeRequest,
    reply: FastifyReply,
    values: Values,
    problems: Problems,
  ) {
    const transcript = await transcriptAsked(request);
    const shown = shownTranscript(transcript);
    return reply.page('transcripts/transcript', {
      title: `Transcript of ${shown.name}`,
      ...{ values, problems, shown },
      ...{ code: transcript.code, codeShown: codeWords(transcript.code), studentId: transcript.studentId },
      verifyAt: await verifyAt(request),
    });
  }
}
