import type { FastifyInstance } from 'fastify';
import { errorPlotSvg } from '../../views/drawing/error-plot.ts';
import {
  listOwnStandings,
  type OwnStanding,
  reasonsOf,
  ruleWords,
  standingView,
} from '../competencies/index.ts';
import { type AssignedSheet, listAssigned } from '../labsheets/index.ts';
import { actorOf } from '../web/access.ts';
import { timeWords } from '../web/words/index.ts';
import { ownCopy } from './own-copy.ts';
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
  /** `holds it, since 14 Sept 2026` */
  readonly standing: string;
  readonly missing: readonly string[];
  readonly runs: readonly RunLine[];
  /** Sign-offs on a shop engine. */
  readonly signOffs: readonly { readonly id: string; readonly when: string; readonly passed: boolean }[];
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
  app.get('/record/copy', { config: { access: 'student' } }, async (request, reply) => {
    const now = app.clock();
    const copy = await ownCopy(app.store.db, actorOf(request), now);
    return reply
      .type('application/json; charset=utf-8')
      .header(
        'content-disposition',
        `attachment; filename="my-record-${now.toISOString().slice(0, 10)}.json"`,
      )
      .send(JSON.stringify(copy, null, 2));
  });

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

function competencyLine({ competency, attempts, standing, evidence }: OwnStanding): CompetencyLine {
  const view = standingView(standing);
  return {
    code: competency.code,
    title: competency.title,
    rule: ruleWords(competency.rule),
    standing: [view.words, view.dates].filter((words) => words !== '').join(', '),
    missing: view.missing,
    runs: attempts.map((run) => {
      const known = evidence.runs.find(({ id }) => id === run.id);
      const reasons = known === undefined ? [] : reasonsOf(competency, known);
      return {
        id: run.id,
        title: `${run.itemTitle}, try ${run.tryNumber}`,
        at: run.handedInAt ?? '',
        when: run.handedInAt === null ? '' : timeWords(run.handedInAt),
        points: run.points ?? 0,
        counts: known !== undefined && reasons.length === 0,
        reasons,
      };
    }),
    signOffs: evidence.signOffs.map(({ id, at, passed }) => ({ id, passed, when: timeWords(at) })),
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
