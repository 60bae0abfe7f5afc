import type { Filled } from './attempt.ts';
import type { Work } from './job.ts';
import {
  accused,
  accusedThoughRight,
  namedForNoReason,
  oneMistake,
  type Population,
  type Students,
  type Tally,
  twoMistakes,
} from './measure.ts';

/** A share that must be reached, or must not be passed. Common practice, no source. */
export interface Goal {
  readonly what: string;
  readonly atLeast?: number;
  readonly atMost?: number;
  /**
   * Not reached there: said by the command, and left out of the tests until it is. On the lift alone one sheet in five could come from
   * two mistakes, and then both are said, or neither. Each drawn alike, a drill of little more than a turn leaves the same sheet for one turn
   * missed and none counted, and for one too many and two up and down, far oftener than in the trade.
   */
  readonly open?: Readonly<Partial<Record<Work, readonly Population[]>>>;
  readonly share: (measured: Measured) => number;
}

/** Everything that the goals are about, measured once. */
export interface Measured {
  readonly full: Tally;
  readonly liftAlone: Tally;
  readonly two: Tally;
  readonly right: number;
  readonly careless: number;
  readonly noReason: number;
}

const named = ({ attempts, named: alone }: Tally) => alone / attempts;
const namedOrColliding = ({ attempts, named: alone, colliding }: Tally) => (alone + colliding) / attempts;

export const GOALS: readonly Goal[] = [
  {
    what: 'everything on the sheet: named or colliding',
    atLeast: 0.98,
    open: { both: ['alike'] },
    share: ({ full }) => namedOrColliding(full),
  },
  {
    what: 'everything on the sheet: named',
    atLeast: 0.92,
    open: { both: ['alike'] },
    share: ({ full }) => named(full),
  },
  {
    what: 'the lift alone: named or colliding',
    atLeast: 0.97,
    share: ({ liftAlone }) => namedOrColliding(liftAlone),
  },
  {
    what: 'the lift alone: named',
    atLeast: 0.88,
    open: { lobes: ['trade', 'alike'], both: ['trade', 'alike'] },
    share: ({ liftAlone }) => named(liftAlone),
  },
  {
    what: 'two mistakes at once: named or colliding',
    atLeast: 0.85,
    share: ({ two }) => namedOrColliding(two),
  },
  {
    what: 'two mistakes at once: named',
    atLeast: 0.75,
    open: { both: ['alike'] },
    share: ({ two }) => named(two),
  },
  { what: 'right within one graduation: accused', atMost: 0, share: ({ right }) => right },
  { what: 'a careless eye: accused', atMost: 0.015, share: ({ careless }) => careless },
  { what: 'wrong for no reason: named all the same', atMost: 0.08, share: ({ noReason }) => noReason },
];

export function isReached({ atLeast = 0, atMost = 1 }: Goal, share: number): boolean {
  return share >= atLeast && share <= atMost;
}

/** Is it known not to be reached by these students? */
export function isOpen(
  { open = {} }: Goal,
  { work, population }: Pick<Students, 'work' | 'population'>,
): boolean {
  return open[work]?.includes(population) ?? false;
}

/** Measures all of it. Of a full sheet and the lift alone, the worse counts. */
export function measureAll(students: Students): Measured {
  const worse = (share: (filled: Filled) => number) => Math.max(share('all'), share('lift'));
  return {
    full: oneMistake(students, 'all'),
    liftAlone: oneMistake(students, 'lift'),
    two: twoMistakes(students),
    right: worse((filled) => accusedThoughRight(students, filled)),
    careless: worse((filled) => accused(students, 1.5, filled)),
    noReason: worse((filled) => namedForNoReason(students, filled)),
  };
}
