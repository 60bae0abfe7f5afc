import type { Kysely } from 'kysely';
import { displayName, listName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import {
  type AnyAction,
  type AnyDefinition,
  type AnySheet,
  brief,
  CRITERIA,
  type Grade,
  generateBench,
  gradeAttempt,
} from '../engine/index.ts';
import { CRITERION_WORDS, timeWords } from '../web/words/index.ts';
import { type CommentView, listComments } from './comments.ts';
import { type DisagreementView, disagreementsOf } from './disagreements.ts';
import type { GradedParts } from './graded-kind.ts';
import type { LogLine } from './log-lines.ts';
import { effectivePoints, pointsOfChange, totalOf } from './points.ts';
import { getGradedRows } from './queries.ts';
import type { ReplayView } from './replay-view.ts';
import { tellWork } from './told-work.ts';
import { typedParts } from './typed-sheet.ts';
import type { ChangeView, CriterionPoints, TypedPart } from './views.ts';

/** A graded attempt, ready to be drawn by views/parts/graded-attempt.eta. It holds the truth: only for attempts handed in. */
export interface GradedAttempt extends GradedParts {
  readonly id: string;
  readonly sectionId: number;
  readonly sectionName: string;
  readonly term: string;
  readonly sheetId: number;
  readonly sheetTitle: string;
  readonly itemTitle: string;
  readonly wayWords: string;
  readonly tryWords: string;
  /** Is there a limit to how many tries there are? */
  readonly triesLimited: boolean;
  readonly student: {
    readonly id: number;
    readonly name: string;
    readonly listName: string;
    readonly number: string;
  };
  readonly engineName: string;
  /** A line each. */
  readonly specification: readonly string[];
  readonly startedAt: string;
  readonly startedWhen: string;
  readonly handedInAt: string;
  readonly handedInWhen: string;
  /** Of the grade, and of the engine that the attempt was begun with. */
  readonly engineVersion: string;
  readonly startedWithVersion: string;
  readonly points: {
    readonly rows: readonly CriterionPoints[];
    readonly total: number;
    readonly outOf: number;
    readonly gradedTotal: number;
    readonly changed: boolean;
  };
  /** Newest first. */
  readonly changes: readonly ChangeView[];
  /** What instructors said of the whole of it, oldest first. */
  readonly comments: readonly CommentView[];
  /** The sheet as typed, of every kind but cam lift, whose lobes show theirs. */
  readonly typedParts: readonly TypedPart[];
  readonly log: readonly (LogLine & { readonly id: string })[];
  /** Null where there is no dial to look at again, or nothing was done with one. */
  readonly replay: ReplayView | null;
  /** What the student disagreed with, and the answers, by what it is about. */
  readonly disagreements: Readonly<Record<string, readonly DisagreementView[]>>;
  /** Disagreements about an earlier grade of this work. */
  readonly earlierDisagreements: readonly DisagreementView[];
  /** A sentence when grading it again today gives something else; null when it gives the same. */
  readonly regraded: string | null;
}

/**
 * Loads one graded attempt with everything that is shown of it. Whether the caller may see it is for the caller to find
 * out first. The stored grade counts; log, plot and replay are folded again from definition, seed and actions.
 * @throws NotFound when it does not exist, or has not been handed in and graded.
 */
export async function loadGradedAttempt(db: Kysely<Database>, attemptId: string): Promise<GradedAttempt> {
  const { attempt, grade: gradeRow, actions: actionRows, changes } = await getGradedRows(db, attemptId);
  const grade = JSON.parse(gradeRow.grade) as Omit<Grade, 'trace'>;
  const sheet = JSON.parse(attempt.writtenSheet) as AnySheet;
  const typed = JSON.parse(attempt.typedSheet) as Record<string, string>;
  const actions = actionRows.map(({ action }) => JSON.parse(action) as AnyAction);
  const bench = generateBench(JSON.parse(attempt.definition) as AnyDefinition, attempt.seed);
  const again = gradeAttempt(bench, actions, sheet);
  const { kind, parts, log, replay } = tellWork({
    ...{ bench, actions, sheet, typed, grade },
    trace: again.trace,
  });
  const said = await disagreementsOf(db, attemptId, gradeRow.id);
  const points = effectivePoints(grade.points, changes[0]);
  const outOf = totalOf(grade.outOf);
  return {
    id: attempt.id,
    sectionId: attempt.section_id,
    sectionName: attempt.sectionName,
    term: attempt.term,
    sheetId: attempt.sheetId,
    sheetTitle: attempt.sheetTitle,
    itemTitle: attempt.itemTitle,
    wayWords: attempt.way === 'practice' ? 'Practice' : 'Graded run',
    triesLimited: attempt.tries !== null,
    tryWords: attempt.tries === null ? `${attempt.try_number}` : `${attempt.try_number} of ${attempt.tries}`,
    student: {
      id: attempt.student_id,
      name: displayName(attempt),
      listName: listName(attempt),
      number: attempt.student_number ?? '',
    },
    ...parts,
    engineName: kind.plate,
    specification: kind.specification,
    startedAt: attempt.started_at,
    startedWhen: timeWords(attempt.started_at),
    handedInAt: attempt.handedInAt,
    handedInWhen: timeWords(attempt.handedInAt),
    engineVersion: gradeRow.engine_version,
    startedWithVersion: attempt.engine_version,
    points: {
      rows: CRITERIA.map((criterion) => ({
        criterion,
        words: CRITERION_WORDS[criterion],
        points: points[criterion],
        outOf: grade.outOf[criterion],
        before: points[criterion] === grade.points[criterion] ? null : grade.points[criterion],
      })),
      total: totalOf(points),
      outOf,
      gradedTotal: grade.total,
      changed: changes.length > 0,
    },
    changes: changes.map((change) => {
      const changed = pointsOfChange(change);
      return {
        id: change.id,
        who: displayName(change),
        at: change.at,
        when: timeWords(change.at),
        reason: change.reason,
        total: totalOf(changed),
        points: CRITERIA.map((criterion) => ({
          words: CRITERION_WORDS[criterion],
          points: changed[criterion],
        })),
      };
    }),
    comments: await listComments(db, attemptId),
    typedParts: typedParts(brief(bench), typed),
    log,
    replay,
    disagreements: said.byRef,
    earlierDisagreements: said.earlier,
    regraded: regradedWords(gradeRow.engine_version, grade, again),
  };
}

/** Stored grades stand; a newer engine may see an attempt differently, and then the page says so. */
function regradedWords(gradedBy: string, stored: Omit<Grade, 'trace'>, again: Grade): string | null {
  const codes = (grade: Omit<Grade, 'trace'>) =>
    [...grade.stops, ...grade.remarks].map(({ code, position }) => `${code} ${position}`).join(';');
  const same =
    CRITERIA.every((criterion) => stored.points[criterion] === again.points[criterion]) &&
    codes(stored) === codes(again);
  if (same) return null;
  return `This was graded by version ${gradedBy} of the measuring engine. Version ${again.engineVersion} would give ${again.total} points and ${again.stops.length === 1 ? '1 stop' : `${again.stops.length} stops`}. The grade that was given stands.`;
}
