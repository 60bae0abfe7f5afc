import type { FastifyInstance } from 'fastify';
import { getCompetency, ruleWords } from '../competencies/index.ts';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf } from '../web/access.ts';
import { readId } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import { COLUMNS, recordCsv } from './csv.ts';
import { listPastExports, type PastExport, rowsOf, takeOut } from './queries.ts';

const COORDINATOR = { config: { access: 'coordinator' } } as const;

interface CompetencyParams {
  Params: { id: string };
}

/** views/exports/competency.eta */
export interface ExportPage {
  readonly title: string;
  readonly competency: { readonly id: number; readonly code: string; readonly title: string };
  readonly ruleWords: string;
  readonly ruleVersion: number;
  readonly rows: number;
  readonly columns: readonly string[];
  readonly past: readonly (PastExport & { readonly when: string })[];
}

export function exportsRoutes(app: FastifyInstance): void {
  const { store } = app;

  app.get<CompetencyParams>('/competencies/:id/export', COORDINATOR, async (request, reply) => {
    const actor = actorOf(request);
    const now = app.clock();
    const competency = await getCompetency(store.db, actor, readId(request.params.id), now);
    const past = await listPastExports(store.db, competency);
    const page: ExportPage = {
      title: `Export ${competency.code}`,
      competency,
      ruleWords: ruleWords(competency.rule),
      ruleVersion: competency.ruleVersion,
      rows: (await rowsOf(store.db, actor, competency, now.toISOString())).length,
      columns: COLUMNS,
      past: past.map((one) => ({ ...one, when: timeWords(one.at) })),
    };
    return reply.page('exports/competency', page);
  });

  // A POST with a token, though it only reads the record: every export is written down, and a link on somebody else's page must not
  // be able to make one in a coordinator's name.
  app.post<CompetencyParams>('/competencies/:id/export', COORDINATOR, async (request, reply) => {
    const actor = actorOf(request);
    const now = app.clock();
    const competency = await getCompetency(store.db, actor, readId(request.params.id), now);
    const rows = await writeTransaction(store, (trx) => takeOut(trx, actor, competency, now));
    const name = `${fileSafe(competency.code)}-${now.toISOString().slice(0, 10)}.csv`;
    return reply
      .type('text/csv; charset=utf-8')
      .header('content-disposition', `attachment; filename="${name}"`)
      .send(recordCsv(rows));
  });
}

/** Letters, digits and hyphens only: the name goes into a header and onto any file system. */
function fileSafe(code: string): string {
  return code.replace(/[^A-Za-z0-9-]+/g, '-').replace(/^-+|-+$/g, '') || 'competency';
}
