import type { Kysely } from 'kysely';
import type { ReplayFrame } from '../../views/client/models/replay.ts';
import { dialSvg } from '../../views/drawing/index.ts';
import { displayName, listName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import {
  act,
  brief,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftSeen,
  type CamLiftSheet,
  CRITERIA,
  type Criterion,
  type Grade,
  generateBench,
  gradeAttempt,
  startBench,
} from '../engine/index.ts';
import { camLiftOf } from '../labsheets/index.ts';
import {
  type About,
  CRITERION_WORDS,
  limitWords,
  placed,
  placeWords,
  remarkWords,
  stopWords,
  timeWords,
} from '../web/words/index.ts';
import { type GradedLobe, type GradedPlate, gradedLobes, type RemarkView } from './graded-lobes.ts';
import { type LogLine, logLines } from './log-lines.ts';
import { effectivePoints, pointsOfChange, totalOf } from './points.ts';
import { getGradedRows } from './queries.ts';
import { frameOf, replayOf } from './replay-frames.ts';

/** Where a remark is to be seen: the line of the log, and the frame of the replay. */
export interface Moment {
  readonly line: string;
  readonly frame: number;
}

export interface CriterionPoints {
  readonly criterion: Criterion;
  readonly words: string;
  /** The points that count. */
  readonly points: number;
  readonly outOf: number;
  /** The points of the grade itself, where an instructor has changed them. */
  readonly before: number | null;
}

export interface ChangeView {
  readonly id: number;
  readonly who: string;
  readonly at: string;
  readonly when: string;
  readonly reason: string;
  readonly total: number;
  readonly points: readonly { readonly words: string; readonly points: number }[];
}

export interface StopView {
  readonly seen: string;
  readonly why: string;
  readonly moment: Moment | null;
}

/** A graded attempt, ready to be drawn by views/parts/graded-attempt.eta. It holds the truth: only for attempts handed in. */
export interface GradedAttempt {
  readonly id: string;
  readonly sectionId: number;
  readonly sectionName: string;
  readonly term: string;
  readonly sheetTitle: string;
  readonly itemTitle: string;
  readonly wayWords: string;
  readonly tryWords: string;
  readonly student: {
    readonly id: number;
    readonly name: string;
    readonly listName: string;
    readonly number: string;
  };
  readonly engineName: string;
  readonly specification: string;
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
  readonly stops: readonly StopView[];
  /** Remarks about the whole run. */
  readonly general: readonly RemarkView[];
  readonly lobes: readonly GradedLobe[];
  readonly log: readonly (LogLine & { readonly id: string })[];
  readonly replay: {
    readonly json: string;
    readonly start: number;
    readonly last: number;
    readonly dialSvg: string;
  };
  /** A sentence when grading it again today gives something else; null when it gives the same. */
  readonly regraded: string | null;
}

/**
 * Loads one graded attempt with everything that is shown of it. Whether the caller may see it is for the caller to find
 * out first. The stored grade counts; log, plot and replay are folded again from definition, seed and actions.
 * @throws NotFound when it does not exist, or has not been handed in and graded.
 * @throws Conflict when it is of a kind that has no screens yet.
 */
export async function loadGradedAttempt(db: Kysely<Database>, attemptId: string): Promise<GradedAttempt> {
  const { attempt, grade: gradeRow, actions: actionRows, changes } = await getGradedRows(db, attemptId);
  const grade = JSON.parse(gradeRow.grade) as Omit<Grade, 'trace'>;
  const sheet = JSON.parse(attempt.writtenSheet) as CamLiftSheet;
  const actions = actionRows.map(({ action }) => JSON.parse(action) as CamLiftAction);
  const bench = generateBench(camLiftOf(attempt.definition), attempt.seed);
  const again = gradeAttempt(bench, actions, sheet);
  const plate: GradedPlate = { ...brief(bench), specification: bench.specification };
  const seen = seenOf(bench, actions);
  const log = logLines(actions, seen).map((line) => ({ ...line, id: `log-${line.from}` }));
  const replay = replayOf(bench, seen);
  const momentAt = (at: number | null, which: 'highest' | 'last'): Moment | null =>
    findMoment(log, replay.frames, at, which);

  const points = effectivePoints(grade.points, changes[0]);
  const outOf = totalOf(grade.outOf);
  return {
    id: attempt.id,
    sectionId: attempt.section_id,
    sectionName: attempt.sectionName,
    term: attempt.term,
    sheetTitle: attempt.sheetTitle,
    itemTitle: attempt.itemTitle,
    wayWords: attempt.way === 'practice' ? 'Practice' : 'Graded run',
    tryWords: attempt.tries === null ? `${attempt.try_number}` : `${attempt.try_number} of ${attempt.tries}`,
    student: {
      id: attempt.student_id,
      name: displayName(attempt),
      listName: listName(attempt),
      number: attempt.student_number ?? '',
    },
    engineName: plate.engineName,
    specification: specificationWords(plate),
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
    stops: grade.stops.map((stop) => {
      const words = stopWords(stop, aboutLobe(plate, grade, sheet, stop.position));
      const place = placeWords({ position: stop.position, reading: null });
      // What was passed by is to be seen at the high point, if the lobe was measured at all.
      const high = stop.code === 'bad-lobe-passed' ? highIn(again, stop.position) : null;
      return {
        seen: placed(place, words.seen),
        why: words.why,
        moment: momentAt(high ?? stop.at, 'highest'),
      };
    }),
    general: grade.remarks
      .filter(({ position, code }) => position === null || code === 'let-go-at-compression')
      .map((remark) => ({
        ...remarkWords(remark, aboutLobe(plate, grade, sheet, remark.position)),
        place: '',
        criterion: '',
        cost: remark.pointsLost,
        moment: momentAt(remark.at, 'last'),
      })),
    lobes: gradedLobes({
      plate,
      grade,
      sheet,
      trace: again.trace,
      momentAt,
      aboutLobe: (position) => aboutLobe(plate, grade, sheet, position),
    }),
    log,
    replay: {
      json: safeJson(replay.data),
      start: momentAt(tellingAction(grade, again), 'highest')?.frame ?? 0,
      last: Math.max(0, replay.frames.length - 1),
      dialSvg: replayDial(plate),
    },
    regraded: regradedWords(gradeRow.engine_version, grade, again),
  };
}

/** Where the replay opens: at what went wrong first, otherwise at the first high reading. */
function tellingAction(grade: Omit<Grade, 'trace'>, again: Grade): number | null {
  const wrong = grade.mistakes.find(({ at }) => at !== null);
  return wrong?.at ?? highIn(again) ?? grade.remarks.find(({ at }) => at !== null)?.at ?? null;
}

/** The action that brought a lobe to its first high reading; of any lobe when no position is given. */
function highIn({ trace }: Grade, position?: number): number | null {
  const runs = position === undefined ? trace : trace.filter((run) => run.position === position);
  return runs.flatMap(({ marks }) => marks).find(({ what }) => what === 'high')?.at ?? null;
}

function seenOf(bench: CamLiftBench, actions: readonly CamLiftAction[]): CamLiftSeen[] {
  let state = startBench(bench);
  return actions.map((action) => {
    const result = act(bench, state, action);
    state = result.state;
    return result.seen;
  });
}

function findMoment(
  log: GradedAttempt['log'],
  frames: readonly ReplayFrame[],
  at: number | null,
  which: 'highest' | 'last',
): Moment | null {
  if (at === null) return null;
  const line = log.find(({ from, to }) => from <= at && at <= to);
  return line === undefined ? null : { line: line.id, frame: frameOf(frames, at, which) };
}

function aboutLobe(
  plate: GradedPlate,
  grade: Pick<Grade, 'lobes'>,
  sheet: CamLiftSheet,
  position: number | null,
): About {
  return {
    dial: plate.dial,
    specification: plate.specification,
    lobe: grade.lobes.find((lobe) => lobe.position === position) ?? null,
    written: sheet.lobes.find((lobe) => lobe.position === position) ?? null,
  };
}

function specificationWords({ specification }: GradedPlate): string {
  const { nominal, unit } = specification;
  return `Nominal ${nominal.toFixed(unit === 'in' ? 3 : 2)} ${unit}; limits ${limitWords(specification)}`;
}

/** The dial as the replay finds it: the script moves it to the first frame. */
function replayDial({ dial }: GradedPlate): string {
  const stand = { pointer: 0, counter: 0, faceTurn: 0, clamped: false, plungerMm: 0 };
  return dialSvg({ dial, ...stand, indicator: 'on' }, { id: 'replay-dial', title: 'The dial as it stood' });
}

/** JSON inside a script element: `<` written so that nothing can end the element early. */
function safeJson(data: unknown): string {
  return JSON.stringify(data).replaceAll('<', '\\u003c');
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
