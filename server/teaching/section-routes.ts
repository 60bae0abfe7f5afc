import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Transaction } from 'kysely';
import { z } from 'zod';
import { displayName, generatePassword, hashPassword } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import { writeTransaction } from '../database/transaction.ts';
import { assignSheet, listAssignments } from '../labsheets/index.ts';
import { copyPlan } from '../lessons/index.ts';
import {
  addInstructor,
  addSection,
  addSubstitute,
  changeSection,
  getTaughtSection,
  listInstructors,
  listTaughtSections,
  removeInstructor,
  setArchived,
  type TaughtSection,
} from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { instantOf, isZone, listZones, localWords, SERVER_ZONE } from '../web/local-time.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;

const words = (what: string) =>
  z.string().trim().min(1, `Write ${what}.`).max(80, 'Write at most 80 letters.');
const sectionForm = z.object({
  name: words('what the section is called'),
  term: words('its term, for example Spring 2027'),
  timeZone: z.string().refine(isZone, 'Choose a time zone from the list.'),
  copyFrom: z.string().default(''),
});
const substituteForm = z.object({
  substituteGiven: words('a given name'),
  substituteFamily: words('a family name'),
  substituteDay: z.string(),
});
const instructorForm = z.object({ signInName: z.string().trim().min(1, 'Write a sign-in name.').max(100) });

export function sectionRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/sections/new', INSTRUCTOR, async (request, reply) => {
    const [latest] = await listTaughtSections(store.db, actorOf(request));
    const values = { timeZone: latest?.timeZone ?? SERVER_ZONE, copyFrom: latest ? String(latest.id) : '' };
    return newPage(request, reply, values, {});
  });

  app.post('/sections', INSTRUCTOR, async (request, reply) => {
    const actor = actorOf(request);
    const form = readForm(sectionForm, request.body);
    if (!form.ok) return newPage(request, reply.code(422), form.values, form.problems);
    const from = (await listTaughtSections(store.db, actor)).find(
      ({ id }) => String(id) === form.value.copyFrom,
    );
    const at = app.clock().toISOString();
    try {
      const id = await writeTransaction(store, async (trx) => {
        const made = await addSection(trx, actor, form.value, at);
        if (from !== undefined) await copyFrom(trx, actor, from, made, at);
        return made;
      });
      return reply.redirect(`/sections/${id}?said=section-made`, 303);
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return newPage(request, reply.code(422), form.values, { name: error.message });
    }
  });

  app.get('/sections/:id/settings', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    return settingsPage(request, reply, { ...section } as unknown as Values, {});
  });

  app.post('/sections/:id/settings', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    const form = readForm(sectionForm, request.body);
    if (!form.ok) return settingsPage(request, reply.code(422), form.values, form.problems);
    try {
      await writeTransaction(store, (trx) => changeSection(trx, actorOf(request), section.id, form.value));
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return settingsPage(request, reply.code(422), form.values, { name: error.message });
    }
    return reply.redirect(`/sections/${section.id}?said=section-kept`, 303);
  });

  app.post('/sections/:id/archive', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    const ends = section.archivedAt === null;
    await writeTransaction(store, (trx) =>
      setArchived(trx, actorOf(request), section.id, ends ? app.clock().toISOString() : null),
    );
    return reply.redirect(
      ends ? '/sections?said=section-archived' : `/sections/${section.id}?said=section-opened`,
      303,
    );
  });

  app.post('/sections/:id/instructors', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    const form = readForm(instructorForm, request.body);
    const shown = { ...section, ...form.values } as unknown as Values;
    if (!form.ok) return settingsPage(request, reply.code(422), shown, form.problems);
    const added = await writeTransaction(store, (trx) =>
      addInstructor(trx, actorOf(request), section.id, form.value.signInName),
    );
    if (!added)
      return settingsPage(request, reply.code(422), shown, {
        signInName: 'No instructor signs in by that name.',
      });
    return reply.redirect(`/sections/${section.id}/settings?said=instructor-added`, 303);
  });

  app.post('/sections/:id/substitutes', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const section = await sectionAsked(request);
    const form = readForm(substituteForm, request.body);
    const problems: Problems = { ...form.problems };
    const at = app.clock().toISOString();
    const until = instantOf({ day: form.values.substituteDay ?? '', time: '23:59' }, section.timeZone);
    if (until === null || until <= at) problems.substituteDay = 'Choose today or a day to come.';
    if (!form.ok || until === null || Object.keys(problems).length > 0)
      return settingsPage(
        request,
        reply.code(422),
        { ...section, ...form.values } as unknown as Values,
        problems,
      );
    const { substituteGiven: givenName, substituteFamily: familyName } = form.value;
    const password = generatePassword();
    const hash = await hashPassword(password);
    const signInName = await writeTransaction(store, (trx) =>
      addSubstitute(trx, actorOf(request), { sectionId: section.id, givenName, familyName, until, hash, at }),
    );
    return reply.page('teaching/substitute', {
      title: 'Sign-in of a substitute',
      ...{ section, signInName, password, name: `${givenName} ${familyName}` },
      until: localWords(until, section.timeZone),
    });
  });

  app.post<{ Params: { id: string; personId: string } }>(
    '/sections/:id/instructors/:personId/remove',
    INSTRUCTOR,
    async (request, reply) => {
      const actor = actorOf(request);
      const section = await sectionAsked(request);
      const personId = readId(request.params.personId);
      await writeTransaction(store, (trx) => removeInstructor(trx, actor, section.id, personId));
      const back = personId === actor.id ? '/sections' : `/sections/${section.id}/settings`;
      return reply.redirect(`${back}?said=instructor-removed`, 303);
    },
  );

  function sectionAsked(request: SectionRequest): Promise<TaughtSection> {
    return getTaughtSection(store.db, actorOf(request), readId(request.params.id));
  }

  async function newPage(request: FastifyRequest, reply: FastifyReply, values: Values, problems: Problems) {
    const sections = await listTaughtSections(store.db, actorOf(request));
    return reply.page('teaching/new-section', {
      title: 'New section',
      sections,
      zones: listZones(),
      values,
      problems,
    });
  }

  async function settingsPage(
    request: SectionRequest,
    reply: FastifyReply,
    values: Values,
    problems: Problems,
  ) {
    const section = await sectionAsked(request);
    const instructors = (await listInstructors(store.db, section.id)).map((one) => ({
      id: one.id,
      name: displayName(one),
      signInName: one.sign_in_name,
      until: one.substitute_until === null ? null : localWords(one.substitute_until, section.timeZone),
    }));
    return reply.page('teaching/section-settings', {
      title: `Settings of ${section.name}`,
      section,
      instructors,
      zones: listZones(),
      values,
      problems,
    });
  }
}

/** Sheets without their dates, the plan of lessons without its days, and those who taught it: what a new term begins with. */
async function copyFrom(
  trx: Transaction<Database>,
  actor: Actor,
  from: TaughtSection,
  to: number,
  at: string,
): Promise<void> {
  for (const { sheetId, latePercent, lateDays, counts } of await listAssignments(trx, from.id)) {
    const terms = { dueAt: null, latePercent, lateDays, counts };
    await assignSheet(trx, actor, { sectionId: to, sheetId, terms, at });
  }
  await copyPlan(trx, from.id, to);
  for (const { sign_in_name } of await listInstructors(trx, from.id))
    await addInstructor(trx, actor, to, sign_in_name);
}
