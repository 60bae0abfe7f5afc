import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { DateTime } from 'luxon';
import { z } from 'zod';
import { writeTransaction } from '../database/transaction.ts';
import { type Problems, readForm, requiredText, type Values } from '../web/forms.ts';
import { dayWords, timeWords } from '../web/words/index.ts';
import { getProgram, keepProgram } from './queries.ts';
import { addTerm, listTerms } from './terms-queries.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;

const ADDRESS = 'Write it like https://dialbench.example, or leave it blank.';
const programForm = z.object({
  name: z.string().trim().max(120, 'Write at most 120 letters.').default(''),
  address: z
    .string()
    .trim()
    .max(200, ADDRESS)
    .transform((text) => text.replace(/\/+$/, ''))
    .refine((text) => text === '' || (URL.canParse(text) && new URL(text).origin === text), ADDRESS)
    .refine((text) => text === '' || /^https?:/.test(text), ADDRESS)
    .default(''),
});

const day = z
  .string('Choose a day.')
  .trim()
  .refine((text) => /^\d{4}-\d{2}-\d{2}$/.test(text) && DateTime.fromISO(text).isValid, 'Choose a day.');
const termForm = z.object({ term: requiredText('Write a name.', 60), beginsOn: day, endsOn: day });

/** What the program calls itself, where it is reached, and its terms. */
export function programRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/program', COORDINATOR, (request, reply) => page(request, reply, {}, {}));

  app.post('/program', COORDINATOR, async (request, reply) => {
    const form = readForm(programForm, request.body);
    if (!form.ok) return page(request, reply.code(422), form.values, form.problems);
    await writeTransaction(store, (trx) => keepProgram(trx, form.value));
    return reply.redirect('/program?said=program-kept', 303);
  });

  app.post('/program/terms', COORDINATOR, async (request, reply) => {
    const form = readForm(termForm, request.body);
    if (!form.ok) return page(request, reply.code(422), form.values, form.problems);
    const { term: name, beginsOn, endsOn } = form.value;
    const problems = await writeTransaction(store, (trx) => addTerm(trx, { name, beginsOn, endsOn }));
    if (problems !== null) return page(request, reply.code(422), form.values, problems);
    return reply.redirect('/program?said=term-added', 303);
  });

  async function page(_request: FastifyRequest, reply: FastifyReply, values: Values, problems: Problems) {
    const program = await getProgram(store.db);
    const terms = await listTerms(store.db);
    const keys = await app.signingKeys.list();
    return reply.page('program/program', {
      title: 'Program',
      values: { ...program, ...values },
      problems,
      keys: keys.map(({ id, madeAt, retiredAt }) => ({
        id,
        made: timeWords(madeAt),
        retired: retiredAt === null ? null : timeWords(retiredAt),
      })),
      terms: terms.map((term) => ({
        ...term,
        words: `${dayWords(term.beginsOn)} to ${dayWords(term.endsOn)}`,
      })),
    });
  }
}
