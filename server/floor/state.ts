/** What a student is on, as far as the log tells it. Instants are ISO 8601 in UTC. */
export interface Seen {
  /** Waiting for somebody: at a hold point of a shop engine, or having asked for help. */
  readonly waitingSince: string | null;
  /** The attempt that was last begun and not handed in. */
  readonly open: {
    readonly startedAt: string;
    readonly lastActionAt: string | null;
    /** When the sheet was last written on. */
    readonly lastWrittenAt: string | null;
  } | null;
  readonly handedInAt: string | null;
  /** Points of the last tries at the item, oldest first, of 100. */
  readonly lastPoints: readonly number[];
  /** Every try of an item is used and none was good enough. */
  readonly outOfTries: boolean;
}

export type FloorState =
  | 'waiting'
  | 'out-of-tries'
  | 'stuck'
  | 'idle'
  | 'working'
  | 'handed-in'
  | 'not-begun';

export interface Placed {
  readonly state: FloorState;
  /** Since when; null for one who has not begun. */
  readonly since: string | null;
  /** Why they are stuck, for the instructor. */
  readonly why: string | null;
}

/** When somebody is taken to be idle, stuck, or just done. Common practice, no source. */
export const FLOOR_MINUTES = { idle: 3, stuck: 12, justDone: 5 } as const;
/** A try below this is none to be content with. */
export const GOOD_ENOUGH = 80;

/**
 * Where a student stands at `now`. Waiting comes first, then out of tries, stuck, idle, working. Stuck is who works on and has written nothing on
 * the sheet for twelve minutes, or has handed in two tries in a row below 80 points, the second no better than the first. Common practice, no source.
 */
export function placeOf(seen: Seen, now: string): Placed {
  const minutesSince = (at: string) => (Date.parse(now) - Date.parse(at)) / 60_000;
  const { open, handedInAt, lastPoints } = seen;
  if (seen.waitingSince !== null) return { state: 'waiting', since: seen.waitingSince, why: null };
  if (open !== null) {
    const active = latest(open.startedAt, open.lastActionAt, open.lastWrittenAt);
    if (minutesSince(active) >= FLOOR_MINUTES.idle) return { state: 'idle', since: active, why: null };
    const written = latest(open.startedAt, open.lastWrittenAt);
    if (minutesSince(written) >= FLOOR_MINUTES.stuck)
      return { state: 'stuck', since: written, why: 'at work, and nothing written since' };
    const [first, second] = lastPoints.slice(-2);
    if (first !== undefined && second !== undefined && first < GOOD_ENOUGH && second <= first)
      return { state: 'stuck', since: open.startedAt, why: 'two tries below 80, the last no better' };
    return { state: 'working', since: active, why: null };
  }
  if (seen.outOfTries && handedInAt !== null) return { state: 'out-of-tries', since: handedInAt, why: null };
  if (handedInAt !== null) return { state: 'handed-in', since: handedInAt, why: null };
  return { state: 'not-begun', since: null, why: null };
}

function latest(...instants: readonly (string | null)[]): string {
  return instants.reduce<string>((last, one) => (one !== null && one > last ? one : last), '');
}

/** Whoever needs somebody, before the others. */
const ORDER: readonly FloorState[] = [
  'waiting',
  'out-of-tries',
  'stuck',
  'idle',
  'working',
  'handed-in',
  'not-begun',
];

export function needsSomebody(state: FloorState): boolean {
  return state === 'waiting' || state === 'out-of-tries' || state === 'stuck';
}

/** Those who need somebody first, whoever waits longest at their head; the others as they came. */
export function inOrder<T extends { readonly placed: Placed }>(students: readonly T[]): readonly T[] {
  const rank = ({ placed: { state } }: T) => (needsSomebody(state) ? ORDER.indexOf(state) : ORDER.length);
  return students
    .map((student, index) => ({ student, index }))
    .sort(
      (one, other) =>
        rank(one.student) - rank(other.student) ||
        (needsSomebody(one.student.placed.state)
          ? (one.student.placed.since ?? '') < (other.student.placed.since ?? '')
            ? -1
            : 1
          : one.index - other.index),
    )
    .map(({ student }) => student);
}
