import { describe, expect, it } from 'vitest';
import type { KindName } from '../../../server/engine/index.ts';
import { DESKS } from '../../../server/kinds/index.ts';
import { listShippedLessons } from '../../../server/lessons/index.ts';
import { lessonFor } from '../../../server/weak-spots/lesson-for.ts';
import { shortWords } from '../../../server/weak-spots/short-words.ts';
import {
  activeSeconds,
  itemsOf,
  lessonsOf,
  questionsOf,
  spotsOf,
  type Work,
} from '../../../server/weak-spots/tally.ts';
import { GAUGED_MISTAKES, GAUGED_REMARK_CODES, REMARK_CODES } from '../../../server/web/words/index.ts';

function work(attemptId: string, studentId: number, parts: Partial<Work> = {}): Work {
  return {
    ...{ attemptId, studentId, itemId: 3, itemTitle: 'Lift', kind: 'cam-lift', way: 'graded-run' },
    ...{ tryNumber: 1, handedInAt: '2026-09-10T09:00:00.000Z', points: 90, activeSeconds: 600 },
    ...{ stops: [], remarks: [], mistakes: [], ...parts },
  };
}
const remark = (code: string, pointsLost: number) => ({ code, criterion: 'setUp' as const, pointsLost });

const CLASS = [
  work('a1', 1, {
    remarks: [remark('tip-not-lifted', 5), remark('tip-not-lifted', 2.5)],
    mistakes: [{ how: 'one', mistakes: ['missed-turn'] }],
    points: 60,
    stops: [{ code: 'whole-turn-error' }],
    activeSeconds: 300,
  }),
  work('a2', 1, { remarks: [remark('tip-not-lifted', 5)], tryNumber: 2, points: 95, activeSeconds: 500 }),
  work('b1', 2, {
    remarks: [remark('verdict-wrong', 10)],
    mistakes: [
      { how: 'either', mistakes: ['missed-turn', 'remainder-only'] },
      { how: 'unexplained', mistakes: [] },
    ],
    points: 70,
    activeSeconds: 900,
  }),
  work('c1', 3, { itemId: 4, itemTitle: 'Play', kind: 'end-play', points: 50, activeSeconds: 100 }),
];

describe('the tallies of what goes wrong', () => {
  it('count students and attempts, not remarks; what may be is counted and said', () => {
    const spots = spotsOf(CLASS).map(({ key, students, attempts, perhaps, pointsLost }) => [
      ...[key, students, attempts.length, perhaps, pointsLost],
    ]);
    expect(spots).toEqual([
      ['mistake.missed-turn', 2, 2, 1, 0],
      ['remark.tip-not-lifted', 1, 2, 0, 12.5],
      ['remark.verdict-wrong', 1, 1, 0, 10],
      ['mistake.remainder-only', 1, 1, 1, 0],
      ['mistake.unexplained', 1, 1, 0, 0],
      ['stop.whole-turn-error', 1, 1, 0, 0],
    ]);
  });

  it('gather by the lesson that treats it', () => {
    expect(
      lessonsOf(CLASS).map(({ slug, students, attempts, pointsLost }) => [
        ...[slug, students, attempts.join(' '), pointsLost],
      ]),
    ).toEqual([
      ['graduations-and-turns', 2, 'a1 b1', 0],
      ['holding-and-setting-up', 1, 'a1 a2', 12.5],
      ['judging-a-reading', 1, 'b1', 10],
    ]);
  });

  it('put the hardest work first, by the mean of first tries, with the middle time at work', () => {
    expect(itemsOf(CLASS)).toMatchObject([
      { itemId: 4, firstTry: 50, stopped: 0, activeSeconds: 100, students: 1 },
      { itemId: 3, firstTry: 65, stopped: 1, activeSeconds: 500, students: 2 },
    ]);
    expect(itemsOf([work('x', 1, { tryNumber: 2 })])[0]?.firstTry).toBeNull();
  });

  it('count time at work without what is longer than three minutes at a stretch', () => {
    const at = (seconds: number) => new Date(Date.UTC(2026, 8, 10, 9, 0, seconds)).toISOString();
    expect(activeSeconds([at(0), at(60), at(4000), at(4100)])).toBe(60 + 180 + 100);
    expect(activeSeconds([at(5)])).toBe(0);
  });

  it('put the question first that fewest had right at once, and leave out what nobody had wrong', () => {
    const answer = (studentId: number, question: string, right: boolean) => ({
      ...{ studentId, lesson: 'run-out', question, right, at: '2026-09-10T09:00:00.000Z' },
    });
    expect(
      questionsOf([
        answer(1, 'easy', true),
        answer(1, 'tir', false),
        answer(1, 'tir', true),
        answer(2, 'tir', true),
        answer(1, 'bend', false),
        answer(2, 'bend', false),
        answer(2, 'bend', false),
      ]).map(({ question, students, atOnce, never }) => [question, students, atOnce, never]),
    ).toEqual([
      ['bend', 2, 0, 2],
      ['tir', 2, 1, 0],
    ]);
  });
});

describe('every code', () => {
  const shipped = new Set(listShippedLessons().map(({ slug }) => slug));
  const codes = [...REMARK_CODES, ...GAUGED_REMARK_CODES];
  const kinds = Object.keys(DESKS) as KindName[];

  it('leads to a lesson that ships, in every kind of work', () => {
    for (const work of kinds) {
      for (const code of codes)
        expect(shipped.has(lessonFor({ kind: 'remark', code, work })), code).toBe(true);
      for (const code of GAUGED_MISTAKES)
        expect(shipped.has(lessonFor({ kind: 'mistake', code, work })), code).toBe(true);
    }
  });

  it('has words of its own, without a number or a gap in them', () => {
    for (const code of codes) expect(shortWords('remark', code)).toMatch(/^[A-Z][^0-9{}]+$/);
    for (const code of GAUGED_MISTAKES) expect(shortWords('mistake', code)).toMatch(/^[A-Z][^{}]+$/);
    expect(shortWords('mistake', 'missed-turn')).toBe('One turn of the pointer was not counted');
    expect(shortWords('remark', 'tip-not-lifted')).toBe('Tip not lifted');
  });
});
