import {
  act,
  type BoreSheet,
  brief,
  gradeAttempt,
  graduationsPerTurn,
  startBench,
} from '../../../server/engine/index.ts';
import { type Chance, chanceFor } from '../../../server/engine/random.ts';
import { boreSheet, observeBore } from '../../support/bore-observer.ts';
import type { Naming } from './gauged-count.ts';

type Attempt = ReturnType<typeof observeBore>;

/** The work of one student: readings in graduations, top to bottom, along before across. */
interface OnBench {
  readonly attempt: Attempt;
  readonly perTurn: number;
  readonly right: readonly number[];
  /** Where the pointer stood slanted, at each place. */
  readonly slanted: readonly number[];
  readonly chance: Chance;
}

interface Wrong {
  readonly mistake: string;
  /** Readings as misread; null where this cannot happen on this bench. */
  readonly reads?: (on: OnBench) => readonly number[] | null;
  /** Written down at once, before anything else is done at the place. */
  readonly atOnce?: true;
  /** What goes wrong on the sheet, worked out from right readings. */
  readonly writes?: (on: OnBench, sheet: BoreSheet) => BoreSheet | null;
}

const all = (change: (reading: number, on: OnBench, index: number) => number) => (on: OnBench) =>
  on.right.map((reading, index) => change(reading, on, index));
const one = (change: (reading: number, on: OnBench, index: number) => number | null) => (on: OnBench) => {
  const at = Math.floor(on.chance.uniform(0, 6));
  const changed = change(on.right[at] ?? 0, on, at);
  return changed === null ? null : on.right.map((reading, index) => (index === at ? changed : reading));
};

/** What students do, told as work at the bench; the engine's own table is not asked. */
export const BORE_MISREADINGS: readonly Wrong[] = [
  { mistake: 'sign-turned', reads: all((reading) => -reading) },
  { mistake: 'sign-turned', reads: one((reading) => -reading) },
  { mistake: 'halved', reads: all((reading) => reading / 2) },
  { mistake: 'doubled', reads: all((reading) => reading * 2) },
  { mistake: 'decimal-place', reads: all((reading) => reading * 10) },
  { mistake: 'decimal-place', reads: one((reading) => reading * 10) },
  { mistake: 'inch-millimetre', reads: all((reading) => reading * 25.4) },
  {
    mistake: 'wrong-way-round',
    reads: one((reading, { perTurn }) => reading - Math.sign(reading) * perTurn),
  },
  {
    mistake: 'wrong-way-round',
    reads: all((reading, { perTurn }) => reading - Math.sign(reading) * perTurn),
  },
  { mistake: 'extra-turn', reads: one((reading, { perTurn }) => reading + Math.sign(reading) * perTurn) },
  {
    mistake: 'not-the-turning-point',
    atOnce: true,
    reads: one((_, { slanted }, index) => slanted[index] ?? null),
  },
  {
    mistake: 'not-the-turning-point',
    reads: all((reading, { slanted }, index) => slanted[index] ?? reading),
  },
  { mistake: 'axes-mixed', reads: all((reading, { right }, index) => right[index ^ 1] ?? reading) },
  {
    mistake: 'axes-mixed',
    reads: ({ right, chance }) => {
      const level = 2 * Math.floor(chance.uniform(0, 3));
      return right.map((reading, index) =>
        index >> 1 === level >> 1 ? (right[index ^ 1] ?? reading) : reading,
      );
    },
  },
  {
    mistake: 'nominal-for-ring',
    writes: ({ attempt, right }) => {
      const { dial, limits } = brief(attempt.bench);
      const nominal = limits.unit === dial.unit ? limits.nominal : limits.nominal / 25.4;
      return sheetOf(attempt, right, nominal);
    },
  },
  {
    mistake: 'sign-turned',
    writes: ({ attempt, right }, sheet) => {
      const turned = sheetOf(
        attempt,
        right.map((reading) => -reading),
      );
      return {
        ...turned,
        places: turned.places.map((place, index) => ({
          ...place,
          reading: sheet.places[index]?.reading ?? null,
        })),
      };
    },
  },
  {
    mistake: 'taper-for-out-of-round',
    writes: (_, sheet) => ({ ...sheet, outOfRound: sheet.taper, taper: sheet.outOfRound }),
  },
  {
    mistake: 'not-the-largest',
    writes: (_, sheet) => ({
      ...sheet,
      largest: Math.min(...sheet.places.map(({ diameter }) => diameter ?? 9)),
    }),
  },
];

function sheetOf({ bench }: Attempt, readings: readonly number[], from?: number): BoreSheet {
  const { dial, limits, ring } = brief(bench);
  return boreSheet(
    readings.map((reading) => reading * dial.graduation),
    from ?? ring,
    limits,
    dial,
  );
}

const BENCHES = Array.from({ length: 60 }, (_, seed) => seed);
const sofar = new Map<number, Attempt>();

/** Rightly measured, once for each bench. */
function measured(seed: number): Attempt {
  const attempt = sofar.get(seed) ?? observeBore({ kind: 'bore-gauge' }, seed);
  sofar.set(seed, attempt);
  return attempt;
}

function onBench(chance: Chance): OnBench {
  const attempt = measured(chance.pick(BENCHES));
  const { dial } = brief(attempt.bench);
  const perTurn = graduationsPerTurn(dial);
  const right = attempt.sheet.places.map(({ reading }) => (reading ?? 0) / dial.graduation);
  return { attempt, perTurn, right, slanted: slantedOf(attempt, right, perTurn), chance };
}

/** What the pointer said as the gauge was put into each place, before it was rocked; on the turn nearest to the reading. */
function slantedOf({ bench, actions }: Attempt, right: readonly number[], perTurn: number): number[] {
  let state = startBench(bench);
  const found: number[] = [];
  for (const action of actions) {
    const done = act(bench, state, action);
    state = done.state;
    if (action.type !== 'put' || action.in !== 'cylinder') continue;
    const near = right[found.length] ?? 0;
    const { pointer } = done.seen.now.sample;
    found.push(pointer + perTurn * Math.round((near - pointer) / perTurn));
  }
  return found;
}

/** The log of a student who writes as soon as the gauge is in. */
function notedAtOnce(actions: Attempt['actions']): Attempt['actions'] {
  const written = { type: 'note', item: 1, box: 'reading' } as const;
  return actions.flatMap((action): Attempt['actions'] =>
    action.type === 'put' ? [action, written] : [action],
  );
}

/** One student with one misreading, a careful eye and whole graduations; null where it cannot happen or cannot be seen. */
export function bore(seed: string): { truth: string; said: readonly Naming[] } | null {
  const chance = chanceFor(seed, 'student');
  const wrong = chance.pick(BORE_MISREADINGS);
  const on = onBench(chance);
  const eye = (reading: number) => Math.round(reading + chance.uniform(-0.4, 0.4));
  const careful = { ...on, right: on.right.map(eye) };
  const read = wrong.reads?.(careful);
  const sheet =
    wrong.reads === undefined
      ? wrong.writes?.(careful, sheetOf(on.attempt, careful.right))
      : read === null || read === undefined
        ? null
        : sheetOf(
            on.attempt,
            read.map((reading) => Math.round(reading * 2) / 2),
          );
  if (sheet === null || sheet === undefined) return null;
  const { bench, actions } = on.attempt;
  const log = wrong.atOnce ? notedAtOnce(actions) : actions;
  const { mistakes } = gradeAttempt(bench, log, sheet);
  if (read && !read.some((reading, index) => Math.abs(reading - (on.right[index] ?? 0)) > 2)) return null;
  if (!read && mistakes.length === 0) return null;
  return { truth: wrong.mistake, said: mistakes };
}

/** Where the pointer truly turned back, in graduations. */
function pointers({ bench, actions, sheet }: Attempt): number[] {
  const shown = gradeAttempt(bench, actions, sheet).items?.[0]?.shown ?? {};
  return sheet.places.map(
    ({ level, axis }) => (shown[`reading-${level}-${axis}`] ?? 0) / bench.dial.graduation,
  );
}

/** Names given to a student who reads with an eye like this and writes down just that. */
export function boreEye(seed: string, eye: (reading: number, chance: Chance) => number): readonly Naming[] {
  const chance = chanceFor(seed, 'eye');
  const { attempt } = onBench(chance);
  const sheet = sheetOf(
    attempt,
    pointers(attempt).map((pointer) => eye(pointer, chance)),
  );
  return gradeAttempt(attempt.bench, attempt.actions, sheet).mistakes;
}
