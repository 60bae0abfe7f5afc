import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { writeTransaction } from '../database/transaction.ts';
import { noteExport } from '../disclosures/index.ts';
import { getTaughtSection, listRoster } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { spreadsheetCsv } from '../web/csv.ts';
import { BadRequest } from '../web/errors.ts';
import { readForm, readId } from '../web/forms.ts';
import { localWords } from '../web/local-time.ts';
import { namesElsewhere, oneRosterFiles, zipped } from './oneroster-results.ts';
import { sectionScores } from './scores.ts';

const INSTRUCTOR = { config: { access: 'instructor' } } as const;
const oneRosterForm = z.object({ version: z.enum(['1.1', '1.2']) });
type SectionRequest = FastifyRequest<{ Params: { id: string } }>;

export function scoreRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get('/sections/:id/scores', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const { section, roster, scores } = await scoresAsked(request);
    return reply.page('teaching/scores', {
      title: `Scores of ${section.name}`,
      section,
      unknown: (await namesElsewhere(store.db, section.id, roster)).unknown,
      sheets: scores.sheets.map((sheet) => ({
        ...sheet,
        due: sheet.dueAt === null ? null : localWords(sheet.dueAt, section.timeZone),
      })),
      lines: roster.map((student) => ({
        id: student.id,
        name: `${student.family_name}, ${student.given_name}`,
        sheets: scores.students.find(({ personId }) => personId === student.id)?.sheets ?? [],
      })),
    });
  });

  // A POST, because what leaves the house is written down.
  app.post('/sections/:id/scores', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const actor = actorOf(request);
    const { section, roster, scores } = await scoresAsked(request);
    const at = app.clock().toISOString();
    const rows = roster.map((student) => {
      const own = scores.students.find(({ personId }) => personId === student.id)?.sheets ?? [];
      return [
        ...[student.student_number, student.family_name, student.given_name],
        ...scores.sheets.map((_, index) => shown(own[index]?.score ?? null)),
        at,
      ];
    });
    const columns = [
      ...['student_number', 'family_name', 'given_name'],
      ...scores.sheets.map(({ title }) => title),
      'as_of',
    ];
    await writeTransaction(store, (trx) =>
      noteExport(trx, actor, { what: `scores of section ${section.id}, CSV`, rows: rows.length, at }),
    );
    return reply
      .type('text/csv; charset=utf-8')
      .header(
        'content-disposition',
        `attachment; filename="scores-section-${section.id}-${at.slice(0, 10)}.csv"`,
      )
      .send(spreadsheetCsv(columns, rows));
  });

  app.post('/sections/:id/scores/oneroster', INSTRUCTOR, async (request: SectionRequest, reply) => {
    const actor = actorOf(request);
    const { section, roster, scores } = await scoresAsked(request);
    const form = readForm(oneRosterForm, request.body);
    if (!form.ok) throw new BadRequest('Choose OneRoster 1.1 or 1.2.');
    const { version } = form.value;
    const now = app.clock();
    const at = now.toISOString();
    const names = await namesElsewhere(store.db, section.id, roster);
    const zip = await zipped(oneRosterFiles(version, section, scores, names, at), now);
    await writeTransaction(store, (trx) =>
      noteExport(trx, actor, {
        what: `scores of section ${section.id}, OneRoster ${version}`,
        rows: scores.students.length * scores.sheets.length,
        at,
      }),
    );
    return reply
      .type('application/zip')
      .header(
        'content-disposition',
        `attachment; filename="oneroster-results-section-${section.id}-${at.slice(0, 10)}.zip"`,
      )
      .send(zip);
  });

  async function scoresAsked(request: SectionRequest) {
    const actor = actorOf(request);
    const section = await getTaughtSection(store.db, actor, readId(request.params.id));
    const roster = await listRoster(store.db, actor, section.id);
    const ids = roster.map(({ id }) => id);
    return {
      section,
      roster,
      scores: await sectionScores(store.db, section.id, ids, app.clock().toISOString()),
    };
  }
}

/** One decimal, as it is shown; blank where there is nothing to count. */
function shown(score: number | null): string {
  return score === null ? '' : (Math.round(score * 10) / 10).toFixed(1);
}
