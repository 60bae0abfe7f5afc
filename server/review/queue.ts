import { median } from '../engine/index.ts';
import { lengthOfTime } from '../web/words/index.ts';
import type { AttemptSummary } from './summaries.ts';

/** Why a graded attempt wants a person to look at it. */
export type Why = 'disagreement' | 'stop' | 'last-try' | 'quick';

export interface QueueRow {
  readonly attempt: AttemptSummary;
  /** In words for the instructor, the weightiest first. */
  readonly whys: readonly { readonly why: Why; readonly words: string }[];
  /** Nothing waits any more: answered, and looked at or otherwise dealt with. */
  readonly settled: boolean;
}

/** A last try below this many points is talked about. Common practice, no source. */
export const ENOUGH_POINTS = 80;
/** A good run is quick when it took less than this share of the middle time of the section, from so many runs on; before that, less than so many seconds. Common practice, no source. */
const QUICK = { share: 1 / 4, runs: 5, seconds: 60 } as const;

const ORDER: readonly Why[] = ['disagreement', 'stop', 'last-try', 'quick'];

/**
 * What of a section's graded attempts wants a person, and what of that is settled: those that disagree first, then stops, last tries below
 * enough points and good runs that were implausibly quick; the oldest first within each. Practice has disagreements only.
 */
export function queueOf(attempts: readonly AttemptSummary[]): readonly QueueRow[] {
  const middle = middleSeconds(attempts);
  return attempts
    .flatMap((attempt): QueueRow[] => {
      const whys = whysOf(attempt, middle);
      if (whys.length === 0) return [];
      const others = whys.some(({ why }) => why !== 'disagreement');
      const settled = attempt.unanswered === 0 && (!others || attempt.reviewedAt !== null);
      return [{ attempt, whys, settled }];
    })
    .sort((one, other) => rank(one) - rank(other) || (handedIn(one) < handedIn(other) ? -1 : 1));
}

function rank({ whys }: QueueRow): number {
  return ORDER.indexOf(whys[0]?.why ?? 'quick');
}

function handedIn({ attempt }: QueueRow): string {
  return attempt.handedInAt ?? '';
}

function whysOf(attempt: AttemptSummary, middle: ReadonlyMap<number, number>): QueueRow['whys'] {
  const whys: { why: Why; words: string }[] = [];
  const { disagreements, unanswered, stops, points, tries } = attempt;
  if (disagreements > 0)
    whys.push({
      why: 'disagreement',
      words:
        unanswered > 0
          ? `${unanswered === 1 ? 'one disagreement' : `${unanswered} disagreements`} not answered`
          : `${disagreements === 1 ? 'one disagreement' : `${disagreements} disagreements`}, answered`,
    });
  if (attempt.way !== 'graded-run') return whys;
  if (stops > 0) whys.push({ why: 'stop', words: stops === 1 ? 'one stop' : `${stops} stops` });
  if (points !== null && points < ENOUGH_POINTS && tries !== null && attempt.tryNumber >= tries)
    whys.push({ why: 'last-try', words: `last try, below ${ENOUGH_POINTS} points` });
  const seconds = secondsOf(attempt);
  if (seconds === null || points === null || points < ENOUGH_POINTS) return whys;
  const usual = middle.get(attempt.itemId);
  if (usual === undefined ? seconds < QUICK.seconds : seconds < usual * QUICK.share)
    whys.push({
      why: 'quick',
      words: `handed in ${lengthOfTime(seconds)} after it was begun${usual === undefined ? '' : `; the middle of the section is ${lengthOfTime(usual)}`}`,
    });
  return whys;
}

/** From begun to handed in, s. */
function secondsOf({ startedAt, handedInAt }: AttemptSummary): number | null {
  return handedInAt === null ? null : (Date.parse(handedInAt) - Date.parse(startedAt)) / 1000;
}

/** The median time of each item's graded runs, s; of those with enough of them. */
function middleSeconds(attempts: readonly AttemptSummary[]): ReadonlyMap<number, number> {
  const times = new Map<number, number[]>();
  for (const attempt of attempts) {
    const seconds = secondsOf(attempt);
    if (attempt.way === 'graded-run' && seconds !== null)
      times.set(attempt.itemId, [...(times.get(attempt.itemId) ?? []), seconds]);
  }
  return new Map(
    [...times].flatMap(([itemId, all]): [number, number][] => {
      const middle = all.length < QUICK.runs ? null : median(all);
      return middle === null ? [] : [[itemId, middle]];
    }),
  );
}

export interface QueuePlace {
  /** Why this attempt is in the queue; empty when it is not. */
  readonly whys: QueueRow['whys'];
  readonly settled: boolean;
  /** Does it wait only for somebody to look at it? A disagreement wants an answer. */
  readonly toBeSeen: boolean;
  /** How many wait, this one included where it does. */
  readonly waiting: number;
  /** Those that wait before and after this one, round the end; null when no other waits. */
  readonly previousId: string | null;
  readonly nextId: string | null;
}

/** Where an attempt stands in the queue, and what waits on either side of it. */
export function placeInQueue(rows: readonly QueueRow[], attemptId: string): QueuePlace {
  const index = rows.findIndex(({ attempt }) => attempt.id === attemptId);
  const around = index < 0 ? rows : [...rows.slice(index + 1), ...rows.slice(0, index)];
  const others = around.filter(({ settled }) => !settled);
  const own = rows[index];
  return {
    whys: own?.whys ?? [],
    settled: own?.settled ?? true,
    toBeSeen: own !== undefined && !own.settled && own.attempt.unanswered === 0,
    waiting: rows.filter(({ settled }) => !settled).length,
    previousId: others.at(-1)?.attempt.id ?? null,
    nextId: others[0]?.attempt.id ?? null,
  };
}
