import type { FastifyInstance } from 'fastify';
import { errorPlotSvg } from '../../views/drawing/error-plot.ts';
import { listOwnStandings, type OwnStanding, ruleWords } from '../competencies/index.ts';
import { type AssignedSheet, listAssigned } from '../labsheets/index.ts';
import { actorOf } from '../web/access.ts';
import { timeWords } from '../web/words/index.ts';
import { GROSS, listReadingErrors, type ReadingDay, readingDays } from './readings.ts';

interface RunLine {
  readonly id: string;
  readonly title: string;
  readonly at: string;
  readonly when: string;
  readonly points: number;
  readonly counts: boolean;
  readonly reasons: readonly string[];
}

interface CompetencyLine {
  readonly code: string;
  readonly title: string;
  readonly rule: string;
  /** Since when the simulated part is met; null where it is not. */
  readonly metWhen: string | null;
  readonly missing: readonly string[];
  readonly runs: readonly RunLine[];
}

interface DueLine {
  readonly itemId: number;
  readonly sectionId: number;
  readonly title: string;
  readonly sheet: string;
  readonly openAttemptId: string | null;
}

/** views/record/record.eta */
export interface RecordPage {
  readonly title: string;
  readonly sheetCode: string;
  readonly name: string;
  readonly competencies: readonly CompetencyLine[];
  readonly due: readonly DueLine[];
  readonly days: readonly (ReadingDay & { readonly biasWords: string; readonly spreadWords: string })[];
  readonly gross: number;
  readonly plots: { readonly narrow: string; readonly wide: string } | null;
}

export function recordRoutes(app: FastifyInstance): void {
  app.get('/record', { config: { access: 'student' } }, async (request, reply) => {
    const actor = actorOf(request);
    const { db } = app.store;
    const days = readingDays(await listReadingErrors(db, actor.id));
    const plot = (size: 'narrow' | 'wide') =>
      errorPlotSvg(days, { id: `errors-${size}`, title: 'Reading error by day, in graduations', size });
    const page: RecordPage = {
      title: 'My record',
      sheetCode: `Record ${actor.signInName}`,
      name: `${actor.givenName} ${actor.familyName}`,
      competencies: (await listOwnStandings(db, actor, app.clock())).map(competencyLine),
      due: dueLines(await listAssigned(db, actor, app.clock().toISOString())),
      days: days.map((day) => ({
        ...day,
        biasWords: signed(day.bias),
        spreadWords: day.spread?.toFixed(1) ?? '',
      })),
      gross: GROSS,
      plots: days.length === 0 ? null : { narrow: plot('narrow'), wide: plot('wide') },
    };
    return reply.page('record/record', page);
  });
}

function competencyLine({ competency, attempts, decision }: OwnStanding): CompetencyLine {
  const judged = new Map(decision.attempts.map((one) => [one.id, one]));
  const runs = attempts.map((run) => ({
    id: run.id,
    title: `${run.itemTitle}, try ${run.tryNumber}`,
    at: run.handedInAt ?? '',
    when: run.handedInAt === null ? '' : timeWords(run.handedInAt),
    points: run.points ?? 0,
    counts: judged.get(run.id)?.counts ?? false,
    reasons: judged.get(run.id)?.reasons ?? [],
  }));
  const metBy = runs.find(({ id }) => id === decision.counting[competency.rule.gradedRuns - 1]);
  const { shopSignOffs } = competency.rule;
  return {
    code: competency.code,
    title: competency.title,
    rule: ruleWords(competency.rule),
    metWhen: decision.meetsSimulatedPart ? (metBy?.when ?? null) : null,
    missing: [
      ...decision.missing,
      `${shopSignOffs > 1 ? `${shopSignOffs} sign-offs` : 'a sign-off'} on a shop engine`,
    ],
    runs,
  };
}

/** Practice engines assigned and never handed in. */
function dueLines(sheets: readonly AssignedSheet[]): DueLine[] {
  return sheets.flatMap((sheet) =>
    sheet.items
      .filter((item) => item.state === 'open' || item.state === 'not-started')
      .map((item) => ({
        itemId: item.id,
        sectionId: sheet.sectionId,
        title: item.title,
        sheet: `${sheet.title}, ${sheet.sectionName}`,
        openAttemptId: item.openAttemptId,
      })),
  );
}

/** A mean in graduations, with its sign as it is printed. */
function signed(value: number | null): string {
  if (value === null) return '';
  const size = Math.abs(value).toFixed(1);
  if (Number(size) === 0) return size;
  return `${value < 0 ? '−' : '+'}${size}`;
}
