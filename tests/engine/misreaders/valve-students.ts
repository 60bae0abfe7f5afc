import { brief, gradeAttempt, graduationsPerTurn, type ValveSheet } from '../../../server/engine/index.ts';
import { type Chance, chanceFor } from '../../../server/engine/random.ts';
import { observeValves, writtenValve } from '../../support/valve-observer.ts';
import type { Naming } from './gauged-count.ts';

type Attempt = ReturnType<typeof observeValves>;
type Box = 'lobeLift' | 'valveLift' | 'lash';
/** Lengths of one valve, in graduations. */
type Lengths = Readonly<Record<Box, number>>;

interface OnEngine {
  readonly valves: readonly Lengths[];
  /** The valve on whose line it happens. */
  readonly at: number;
  readonly perTurn: number;
  readonly chance: Chance;
}

interface Wrong {
  readonly mistake: string;
  /** All valves' lengths as misread; null where this cannot happen. */
  readonly reads?: (on: OnEngine) => readonly Lengths[] | null;
  /** The ratio as it comes out of right lengths. */
  readonly ratio?: (right: Lengths) => number;
}

const BOXES = ['lobeLift', 'valveLift', 'lash'] as const;
const LIFTS = ['lobeLift', 'valveLift'] as const;

const line = (change: (right: Lengths, on: OnEngine) => Lengths | null) => (on: OnEngine) => {
  const right = on.valves[on.at];
  const changed = right === undefined ? null : change(right, on);
  return changed === null ? null : on.valves.map((one, index) => (index === on.at ? changed : one));
};
const box = (boxes: readonly Box[], change: (length: number, on: OnEngine) => number | null) =>
  line((right, on) => {
    const name = on.chance.pick(boxes);
    const changed = change(right[name], on);
    return changed === null ? null : { ...right, [name]: changed };
  });
const every = (change: (length: number) => number) =>
  line((right) => ({
    lobeLift: change(right.lobeLift),
    valveLift: change(right.valveLift),
    lash: change(right.lash),
  }));

/** What students do, told as work at the engine; the engine's own table is not asked. */
const VALVE_MISREADINGS: readonly Wrong[] = [
  { mistake: 'missed-turn', reads: box(LIFTS, (lift, { perTurn }) => lift - perTurn) },
  { mistake: 'extra-turn', reads: box(LIFTS, (lift, { perTurn }) => lift + perTurn) },
  {
    mistake: 'wrong-way-round',
    reads: box(LIFTS, (lift, { perTurn }) => {
      const pointer = lift % perTurn;
      return lift - pointer + (perTurn - pointer);
    }),
  },
  { mistake: 'halved', reads: box(BOXES, (length) => length / 2) },
  { mistake: 'halved', reads: every((length) => length / 2) },
  { mistake: 'doubled', reads: box(BOXES, (length) => 2 * length) },
  { mistake: 'doubled', reads: every((length) => 2 * length) },
  { mistake: 'decimal-place', reads: box(BOXES, (length) => 10 * length) },
  { mistake: 'decimal-place', reads: box(LIFTS, (length) => length / 10) },
  { mistake: 'inch-millimetre', reads: box(BOXES, (length) => 25.4 * length) },
  { mistake: 'inch-millimetre', reads: every((length) => 25.4 * length) },
  { mistake: 'another-valve', reads: ({ valves }) => [...valves].reverse() },
  {
    mistake: 'another-valve',
    reads: line((right, { valves, at }) => ({ ...right, valveLift: valves[1 - at]?.valveLift ?? 0 })),
  },
  {
    mistake: 'lobe-and-valve-mixed',
    reads: line(({ lobeLift, valveLift, lash }) => ({ lobeLift: valveLift, valveLift: lobeLift, lash })),
  },
  { mistake: 'lash-added', reads: line((right) => ({ ...right, valveLift: right.valveLift + right.lash })) },
  {
    mistake: 'lash-taken-away',
    reads: line((right) => ({ ...right, valveLift: right.valveLift - right.lash })),
  },
  { mistake: 'lash-forgotten', ratio: ({ lobeLift, valveLift }) => valveLift / lobeLift },
  { mistake: 'lash-twice', ratio: ({ lobeLift, valveLift, lash }) => (valveLift + 2 * lash) / lobeLift },
  { mistake: 'lash-taken-away', ratio: ({ lobeLift, valveLift, lash }) => (valveLift - lash) / lobeLift },
  { mistake: 'ratio-upside-down', ratio: ({ lobeLift, valveLift, lash }) => lobeLift / (valveLift + lash) },
];

const BENCHES = Array.from({ length: 60 }, (_, seed) => seed);
const sofar = new Map<number, Attempt>();

/** Rightly measured, once for each bench. */
function measured(seed: number): Attempt {
  const attempt = sofar.get(seed) ?? observeValves({ kind: 'valve-lift' }, seed);
  sofar.set(seed, attempt);
  return attempt;
}

const shownSofar = new Map<Attempt, Lengths[]>();

/** What the gauge truly showed, in graduations; once for each bench. */
function pointers(attempt: Attempt): Lengths[] {
  const known = shownSofar.get(attempt) ?? pointersOf(attempt);
  shownSofar.set(attempt, known);
  return known;
}

function pointersOf({ bench, actions, sheet }: Attempt): Lengths[] {
  return (gradeAttempt(bench, actions, sheet).items ?? []).map(({ shown }) => {
    const count = (name: string) => (shown[name] ?? 0) / bench.dial.graduation;
    return { lobeLift: count('lobe-lift'), valveLift: count('valve-lift'), lash: count('lash') };
  });
}

function looks(valves: readonly Lengths[], eye: (length: number) => number): Lengths[] {
  return valves.map(({ lobeLift, valveLift, lash }) => ({
    lobeLift: eye(lobeLift),
    valveLift: eye(valveLift),
    lash: eye(lash),
  }));
}

function sheetOf({ bench }: Attempt, valves: readonly Lengths[]): ValveSheet {
  const plate = brief(bench);
  const inUnit = (graduations: number) => graduations * bench.dial.graduation;
  return {
    valves: plate.valves.flatMap((name, index) => {
      const lengths = valves[index];
      if (lengths === undefined) return [];
      const { lobeLift, valveLift, lash } = lengths;
      return writtenValve(plate, name, {
        ...{ lobeLift: inUnit(lobeLift), valveLift: inUnit(valveLift), lash: inUnit(lash) },
      });
    }),
  };
}

/** One student with one misreading, a careful eye and whole graduations; null where it cannot happen or cannot be seen. */
export function valveStudent(seed: string): { truth: string; said: readonly Naming[] } | null {
  const chance = chanceFor(seed, 'student');
  const wrong = chance.pick(VALVE_MISREADINGS);
  const attempt = measured(chance.pick(BENCHES));
  const { bench, actions } = attempt;
  const shown = pointers(attempt);
  const right = looks(shown, (length) => Math.round(length + chance.uniform(-0.4, 0.4)));
  const at = Math.floor(chance.uniform(0, right.length));
  const read = wrong.reads?.({ valves: right, at, perTurn: graduationsPerTurn(bench.dial), chance });
  if (read === null) return null;
  const sheet = sheetOf(attempt, read ?? right);
  const turned = wrong.ratio;
  const valves = sheet.valves.map((one, index) => {
    const lengths = right[index];
    if (turned === undefined || index !== at || lengths === undefined) return one;
    return { ...one, ratio: Math.round(100 * turned(lengths)) / 100 };
  });
  const { mistakes } = gradeAttempt(bench, actions, { valves });
  const isSeen = read?.some((one, index) =>
    BOXES.some((name) => Math.abs(one[name] - (shown[index]?.[name] ?? 0)) > 2),
  );
  if (isSeen === false || mistakes.length === 0) return null;
  return { truth: wrong.mistake, said: mistakes };
}

/** Names given to a student who reads with an eye like this and writes down just that. */
export function valveEye(seed: string, eye: (length: number, chance: Chance) => number): readonly Naming[] {
  const chance = chanceFor(seed, 'eye');
  const attempt = measured(chance.pick(BENCHES));
  const read = looks(pointers(attempt), (length) => Math.max(0, eye(length, chance)));
  return gradeAttempt(attempt.bench, attempt.actions, sheetOf(attempt, read)).mistakes;
}
