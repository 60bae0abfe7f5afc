import { describe, expect, it } from 'vitest';
import { placeInQueue, queueOf } from '../../../server/review/queue.ts';
import type { AttemptSummary } from '../../../server/review/summaries.ts';

function attempt(parts: Partial<AttemptSummary> & { readonly id: string }): AttemptSummary {
  return {
    ...{ sectionId: 1, sectionName: 'A', term: 'T', itemId: 3, itemTitle: 'Lift', studentId: 4 },
    ...{ givenName: 'Tam', familyName: 'Okereke', studentNumber: '003201', tryNumber: 1 },
    way: 'graded-run',
    startedAt: '2026-09-10T09:00:00.000Z',
    handedInAt: '2026-09-10T09:20:00.000Z',
    ...{ points: 95, changed: false, stops: 0, disagreements: 0, unanswered: 0 },
    ...{ gradedByEngine: '1', tries: 3, reviewedAt: null },
    ...parts,
  };
}
/** Handed in so many seconds after it was begun. */
const handedInAfter = (seconds: number) => ({
  handedInAt: new Date(Date.parse('2026-09-10T09:00:00.000Z') + seconds * 1000).toISOString(),
});
const whysOf = (...attempts: AttemptSummary[]) =>
  queueOf(attempts).map((row) => [row.attempt.id, ...row.whys.map(({ why }) => why)]);

describe('what needs a person', () => {
  it('is nothing of a good run, nor of an early try that was not good', () => {
    expect(whysOf(attempt({ id: 'good' }), attempt({ id: 'poor', points: 40, tryNumber: 2 }))).toEqual([]);
  });

  it('is a stop, a last try below 80, a disagreement; the weightiest first, then the oldest', () => {
    expect(
      whysOf(
        attempt({ id: 'last', points: 79.9, tryNumber: 3 }),
        attempt({ id: 'late-stop', points: 60, stops: 1, tryNumber: 3, ...handedInAfter(2000) }),
        attempt({ id: 'stop', stops: 2 }),
        attempt({ id: 'disagrees', disagreements: 1, unanswered: 1 }),
        attempt({ id: 'any-tries', points: 10, tries: null }),
        attempt({ id: 'just-enough', points: 80, tryNumber: 3 }),
      ),
    ).toEqual([
      ['disagrees', 'disagreement'],
      ['stop', 'stop'],
      ['late-stop', 'stop', 'last-try'],
      ['last', 'last-try'],
    ]);
  });

  it('is of practice a disagreement alone', () => {
    const practice = { way: 'practice', points: 20, stops: 3, tryNumber: 3 } as const;
    expect(whysOf(attempt({ id: 'a', ...practice }))).toEqual([]);
    expect(whysOf(attempt({ id: 'a', ...practice, disagreements: 1, unanswered: 1 }))).toEqual([
      ['a', 'disagreement'],
    ]);
  });

  it('is a good run quicker than a minute, or from five runs on than a quarter of their middle time', () => {
    expect(
      whysOf(attempt({ id: 'a', ...handedInAfter(59) }), attempt({ id: 'b', ...handedInAfter(60) })),
    ).toEqual([['a', 'quick']]);
    expect(whysOf(attempt({ id: 'poor', points: 50, ...handedInAfter(10) }))).toEqual([]);
    // In order 99, 100, 400, 500, 600, 700: the middle is 450 s, a quarter of it 112.5 s.
    const runs = [100, 400, 500, 600, 700].map((seconds) =>
      attempt({ id: `run-${seconds}`, ...handedInAfter(seconds) }),
    );
    const rows = queueOf([...runs, attempt({ id: 'quick', ...handedInAfter(99) })]);
    expect(rows.map((row) => row.attempt.id)).toEqual(['quick', 'run-100']);
    expect(rows[0]?.whys[0]?.words).toBe(
      'handed in 1 min 39 s after it was begun; the middle of the section is 7 min 30 s',
    );
  });

  it('is settled by an answer, or by having been looked at; a new disagreement opens it again', () => {
    const settled = (parts: Partial<AttemptSummary>) => queueOf([attempt({ id: 'a', ...parts })])[0]?.settled;
    const looked = { reviewedAt: '2026-09-11T08:00:00.000Z' };
    expect(settled({ stops: 1 })).toBe(false);
    expect(settled({ stops: 1, ...looked })).toBe(true);
    expect(settled({ disagreements: 1, unanswered: 0 })).toBe(true);
    expect(settled({ disagreements: 2, unanswered: 1, ...looked })).toBe(false);
  });

  it('leads from one that waits to the next, round the end', () => {
    const rows = queueOf([
      attempt({ id: 'a', stops: 1, ...handedInAfter(100) }),
      attempt({ id: 'b', stops: 1, ...handedInAfter(200), reviewedAt: '2026-09-11T08:00:00.000Z' }),
      attempt({ id: 'c', stops: 1, ...handedInAfter(300) }),
      attempt({ id: 'd', stops: 1, ...handedInAfter(400) }),
    ]);
    expect(placeInQueue(rows, 'a')).toMatchObject({
      waiting: 3,
      toBeSeen: true,
      previousId: 'd',
      nextId: 'c',
    });
    expect(placeInQueue(rows, 'b')).toMatchObject({ settled: true, previousId: 'a', nextId: 'c' });
    expect(placeInQueue(rows, 'd')).toMatchObject({ previousId: 'c', nextId: 'a' });
    expect(placeInQueue(rows, 'other')).toMatchObject({
      whys: [],
      toBeSeen: false,
      previousId: 'd',
      nextId: 'a',
    });
    expect(placeInQueue(rows.slice(0, 1), 'a')).toMatchObject({ waiting: 1, nextId: null, previousId: null });
  });
});
