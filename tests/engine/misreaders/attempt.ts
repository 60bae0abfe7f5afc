import type { Mistake, ShownReading, WrittenBoxes } from '../../../server/engine/index.ts';
import type { Chance } from '../../../server/engine/random.ts';
import { handAfter, type Measurement, shownOf } from './job.ts';
import { type Boxes, type Doing, MISREADINGS, type Misreading } from './misreadings.ts';

/** What is filled in on a sheet: everything, or the lift alone. */
export type Filled = 'all' | 'lift';

export interface Attempt {
  readonly on: Measurement;
  readonly truth: readonly Mistake[];
  readonly shown: ShownReading;
  readonly written: WrittenBoxes;
  /** The same work with a perfect eye, in graduations: by this two mistakes are told to collide. */
  readonly clean: CleanSheet;
}

export interface CleanSheet {
  readonly reading: number;
  readonly lift: number;
  readonly counterBefore: number | null;
}

interface Work {
  readonly boxes: Boxes;
  readonly lift: number;
  readonly counterBefore: number | null;
  readonly counterHigh: number | null;
}

/** Does the work with these deviations; `eye` turns what the pointer says into what is read. */
function work(on: Measurement, doings: readonly Doing[], eye: (graduations: number) => number): Work {
  const { perTurn, high, counterAtZero } = on;
  const looksAt = doings.find((doing) => doing.looksAt !== undefined)?.looksAt ?? high;
  const read = eye(looksAt);
  const turns = Math.floor(read / perTurn);
  const seen: Boxes = { turns, pointer: read - turns * perTurn };
  let boxes = seen;
  for (const doing of doings) {
    if (doing.turns) boxes = { ...boxes, turns: doing.turns(seen) };
    if (doing.pointer) boxes = doing.pointer(boxes);
  }
  const sum = boxes.turns * perTurn + boxes.pointer;
  const lift = doings.reduce((reading, doing) => doing.lift?.(reading) ?? reading, sum);
  const isElsewhere = doings.some((doing) => doing.counterBefore && doing.looksAt !== undefined);
  const counterBefore = doings.find((doing) => doing.counterBefore !== undefined)?.counterBefore;
  const began = isElsewhere && counterAtZero !== null ? (counterBefore ?? counterAtZero) : counterAtZero;
  const reached = doings.some((doing) => doing.stillRising || isElsewhere) ? looksAt : high;
  return {
    boxes,
    lift,
    counterBefore: counterAtZero === null ? null : (counterBefore ?? counterAtZero),
    counterHigh: began === null ? null : handAfter(on, began, reached / perTurn),
  };
}

const tenth = (turns: number | null) => (turns === null ? null : Math.round(turns * 10) / 10);

export function makeAttempt(
  on: Measurement,
  kinds: readonly Misreading[],
  doings: readonly Doing[],
  eye: (graduations: number) => number,
  filled: Filled,
): Attempt {
  const done = work(on, doings, eye);
  const { graduation } = on.job.dial;
  const noted = doings.find((doing) => doing.stillRising)?.looksAt ?? null;
  const lift = done.lift * graduation;
  return {
    on,
    truth: kinds.map(({ mistake }) => mistake),
    shown: shownOf(on, noted),
    written:
      filled === 'lift'
        ? { lift }
        : {
            ...done.boxes,
            lift,
            counterBefore: tenth(done.counterBefore),
            counterHigh: tenth(done.counterHigh),
          },
    clean: cleanSheet(on, doings),
  };
}

export function cleanSheet(on: Measurement, doings: readonly Doing[]): CleanSheet {
  const { boxes, lift, counterBefore } = work(on, doings, (graduations) => graduations);
  return { reading: boxes.turns * on.perTurn + boxes.pointer, lift, counterBefore };
}

/** A careful eye: out by up to 0.4 graduation, written in whole ones. */
export function carefulEye(chance: Chance): (graduations: number) => number {
  return (graduations) => Math.round(graduations + chance.uniform(-0.4, 0.4));
}

/** Would the two leave the same sheet, to within a graduation in what is filled? */
function looksAlike(a: CleanSheet, b: CleanSheet, filled: Filled): boolean {
  const sameLift = Math.abs(a.lift - b.lift) < 1;
  if (filled === 'lift') return sameLift;
  return (
    sameLift &&
    Math.abs(a.reading - b.reading) < 1 &&
    Math.abs((a.counterBefore ?? 0) - (b.counterBefore ?? 0)) < 0.3
  );
}

/** The single mistakes other than these that would have left the same sheet. A bad sum may be any and is left out. */
export function colliding({ on, truth, clean }: Attempt, filled: Filled): Mistake[] {
  const others = MISREADINGS.filter(
    ({ mistake }) =>
      !(truth.length === 1 && truth[0] === mistake) &&
      mistake !== 'arithmetic' &&
      mistake !== 'not-the-high-point',
  );
  return others
    .filter(({ forms }) => forms(on).some((doing) => looksAlike(cleanSheet(on, [doing]), clean, filled)))
    .map(({ mistake }) => mistake);
}

/** The pairs of mistakes other than this one that would have left the same full sheet. */
export function collidingPairs({ on, truth, clean }: Attempt): (readonly Mistake[])[] {
  const found: (readonly Mistake[])[] = [];
  for (const [index, a] of MISREADINGS.entries()) {
    for (const b of MISREADINGS.slice(index + 1)) {
      if (!combine(a, b) || (truth.includes(a.mistake) && truth.includes(b.mistake))) continue;
      const alike = a
        .forms(on)
        .some((first) =>
          b.forms(on).some((second) => looksAlike(cleanSheet(on, [first, second]), clean, 'all')),
        );
      if (alike) found.push([a.mistake, b.mistake]);
    }
  }
  return found;
}

/** Two mistakes combine where they happen at different moments, and neither is a look at something else altogether. */
export function combine(a: Misreading, b: Misreading): boolean {
  const looksElsewhere = [a, b].some(
    ({ moment, mistake }) => moment === 'looking' && mistake !== 'not-the-high-point',
  );
  return a.moment !== b.moment && a.mistake !== b.mistake && !looksElsewhere;
}
