import { type Criterion, type KindName, median } from '../engine/index.ts';
import { lessonFor } from './lesson-for.ts';
import type { SpotKind } from './short-words.ts';

/** One graded attempt, as far as the tallies need it. */
export interface Work {
  readonly attemptId: string;
  readonly studentId: number;
  readonly itemId: number;
  readonly itemTitle: string;
  readonly kind: KindName;
  readonly way: 'practice' | 'graded-run';
  readonly tryNumber: number;
  readonly handedInAt: string;
  /** After changes, of 100. */
  readonly points: number;
  readonly stops: readonly { readonly code: string }[];
  readonly remarks: readonly {
    readonly code: string;
    readonly criterion: Criterion | null;
    readonly pointsLost: number;
  }[];
  readonly mistakes: readonly { readonly how: string; readonly mistakes: readonly string[] }[];
  /** Time at work, gaps left out, s. */
  readonly activeSeconds: number;
}

/** Something that went wrong, and whose attempts it is in. */
export interface Spot {
  /** `remark.tip-not-lifted` */
  readonly key: string;
  readonly kind: SpotKind;
  readonly code: string;
  /** Null for a stop. */
  readonly criterion: Criterion | null;
  readonly students: number;
  readonly attempts: readonly string[];
  /** How many of the attempts have it only as one of two explanations. */
  readonly perhaps: number;
  readonly pointsLost: number;
  readonly lesson: string;
}

interface Found {
  readonly kind: SpotKind;
  readonly code: string;
  readonly criterion: Criterion | null;
  readonly pointsLost: number;
  readonly perhaps: boolean;
}

function foundIn(work: Work): readonly Found[] {
  const none = { pointsLost: 0, perhaps: false };
  return [
    ...work.stops.map(({ code }): Found => ({ kind: 'stop', code, criterion: null, ...none })),
    ...work.remarks.map(
      ({ code, criterion, pointsLost }): Found => ({
        ...{ kind: 'remark', code, criterion, pointsLost, perhaps: false },
      }),
    ),
    ...work.mistakes.flatMap(({ how, mistakes }) =>
      (mistakes.length === 0 ? ['unexplained'] : mistakes).map(
        (code): Found => ({
          ...{ kind: 'mistake', code, criterion: 'reading', ...none, perhaps: how === 'either' },
        }),
      ),
    ),
  ];
}

/** Everything that went wrong, what befell most students first. The same code in two kinds of work leads to the lesson of the kind it befell most often. */
export function spotsOf(all: readonly Work[]): readonly Spot[] {
  const gathered = new Map<string, { found: Found; work: Work }[]>();
  for (const work of all)
    for (const found of foundIn(work)) {
      const key = `${found.kind}.${found.code}`;
      gathered.set(key, [...(gathered.get(key) ?? []), { found, work }]);
    }
  return [...gathered]
    .map(([key, cases]): Spot => {
      const { kind, code, criterion } = (cases[0] as (typeof cases)[number]).found;
      const attempts = [...new Set(cases.map(({ work }) => work.attemptId))];
      const sure = new Set(cases.filter(({ found }) => !found.perhaps).map(({ work }) => work.attemptId));
      return {
        ...{ key, kind, code, criterion, attempts },
        students: new Set(cases.map(({ work }) => work.studentId)).size,
        perhaps: attempts.length - sure.size,
        pointsLost: cases.reduce((sum, { found }) => sum + found.pointsLost, 0),
        lesson: mostOften(cases.map(({ work }) => lessonFor({ kind, code, work: work.kind }))),
      };
    })
    .sort(
      (one, other) =>
        other.students - one.students ||
        other.attempts.length - one.attempts.length ||
        other.pointsLost - one.pointsLost ||
        (one.key < other.key ? -1 : 1),
    );
}

function mostOften(all: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const one of all) counts.set(one, (counts.get(one) ?? 0) + 1);
  return [...counts].reduce((most, one) => (one[1] > most[1] ? one : most), ['', 0] as [string, number])[0];
}

/** What one lesson could mend. */
export interface LessonSpot {
  readonly slug: string;
  readonly students: number;
  readonly attempts: readonly string[];
  readonly pointsLost: number;
}

/** The same by the lesson that treats it, what befell most students first. */
export function lessonsOf(all: readonly Work[]): readonly LessonSpot[] {
  const students = new Map(all.map((work) => [work.attemptId, work.studentId]));
  const lessons = new Map<string, Spot[]>();
  for (const spot of spotsOf(all)) lessons.set(spot.lesson, [...(lessons.get(spot.lesson) ?? []), spot]);
  return [...lessons]
    .map(([slug, spots]) => {
      const attempts = [...new Set(spots.flatMap((spot) => spot.attempts))];
      return {
        ...{ slug, attempts },
        students: new Set(attempts.map((id) => students.get(id))).size,
        pointsLost: spots.reduce((sum, spot) => sum + spot.pointsLost, 0),
      };
    })
    .sort((one, other) => other.students - one.students || other.pointsLost - one.pointsLost);
}

/** How one item of a sheet went. */
export interface ItemFigures {
  readonly itemId: number;
  readonly title: string;
  readonly students: number;
  readonly attempts: readonly string[];
  /** Mean points of first tries; null where all first tries are left out. */
  readonly firstTry: number | null;
  /** How many attempts have a stop. */
  readonly stopped: number;
  /** The middle time at work, s. */
  readonly activeSeconds: number;
}

/** Every item that was worked, the hardest first: by the mean of the first tries. */
export function itemsOf(all: readonly Work[]): readonly ItemFigures[] {
  const items = new Map<number, Work[]>();
  for (const work of all) items.set(work.itemId, [...(items.get(work.itemId) ?? []), work]);
  return [...items]
    .map(([itemId, works]): ItemFigures => {
      const first = works.filter(({ tryNumber }) => tryNumber === 1);
      return {
        itemId,
        title: works[0]?.itemTitle ?? '',
        students: new Set(works.map(({ studentId }) => studentId)).size,
        attempts: works.map(({ attemptId }) => attemptId),
        firstTry:
          first.length === 0 ? null : first.reduce((sum, { points }) => sum + points, 0) / first.length,
        stopped: works.filter(({ stops }) => stops.length > 0).length,
        activeSeconds: median(works.map((work) => work.activeSeconds)) ?? 0,
      };
    })
    .sort((one, other) => (one.firstTry ?? 101) - (other.firstTry ?? 101));
}

/** Gaps longer than this are no time at work, s. Common practice, no source. */
export const LONGEST_GAP = 180;

/** Time at work, s: from begun over each thing done to handed in, every gap counted up to the longest. Instants are ISO 8601, in order. */
export function activeSeconds(instants: readonly string[]): number {
  let sum = 0;
  for (const [index, at] of instants.entries()) {
    const before = instants[index - 1];
    if (before !== undefined)
      sum += Math.min(LONGEST_GAP, Math.max(0, (Date.parse(at) - Date.parse(before)) / 1000));
  }
  return sum;
}

export interface QuestionAnswer {
  readonly studentId: number;
  readonly lesson: string;
  readonly question: string;
  readonly right: boolean;
  readonly at: string;
}

export interface QuestionFigures {
  readonly lesson: string;
  readonly question: string;
  readonly students: number;
  /** How many had it right at once. */
  readonly atOnce: number;
  /** How many never had it right so far. */
  readonly never: number;
}

/** Questions at the end of lessons that somebody had wrong at first, the hardest first. Answers come oldest first. */
export function questionsOf(answers: readonly QuestionAnswer[]): readonly QuestionFigures[] {
  const questions = new Map<string, Map<number, { first: boolean; ever: boolean }>>();
  for (const { lesson, question, studentId, right } of answers) {
    const key = `${lesson} ${question}`;
    const people = questions.get(key) ?? new Map<number, { first: boolean; ever: boolean }>();
    const known = people.get(studentId);
    people.set(studentId, { first: known?.first ?? right, ever: right || (known?.ever ?? false) });
    questions.set(key, people);
  }
  return [...questions]
    .map(([key, people]): QuestionFigures => {
      const [lesson = '', question = ''] = key.split(' ');
      const all = [...people.values()];
      return {
        ...{ lesson, question, students: all.length },
        atOnce: all.filter(({ first }) => first).length,
        never: all.filter(({ ever }) => !ever).length,
      };
    })
    .filter(({ students, atOnce }) => atOnce < students)
    .sort(
      (one, other) =>
        one.atOnce / one.students - other.atOnce / other.students || other.students - one.students,
    );
}
