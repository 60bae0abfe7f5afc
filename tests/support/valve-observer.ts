import {
  brief,
  convertLength,
  type DefinitionOf,
  firingTdcDeg,
  generateBench,
  judge,
  rockerRatio,
  type ValveBrief,
  type ValveName,
  type ValvePlace,
  type ValveSheet,
  type WrittenValve,
} from '../../server/engine/index.ts';
import { type GaugedAttempt, handsOn, nextFor, setUp } from './gauged-observers.ts';

/** Steps left out or done badly, for the remarks they bring. */
export interface ValveHabits {
  readonly leavesOut?: readonly ('wipe' | 'align' | 'tip' | 'clamp' | 'return' | 'lash' | 'feel')[];
  /** Crank degrees from firing top dead centre at which everything is zeroed. */
  readonly zeroAtDeg?: number;
  /** Preload on the retainer. */
  readonly retainerTurns?: number;
  /** Barred no further than this. */
  readonly barsDeg?: number;
  readonly rocksDownOnly?: boolean;
  /** Reads the retainer in a second set-up too. */
  readonly twice?: boolean;
}

/** A careful student at a valve train, who uses only what can be seen and felt. */
export function observeValves(
  definition: DefinitionOf<'valve-lift'>,
  seed: string | number,
  habits: ValveHabits = {},
): GaugedAttempt<'valve-lift'> {
  const bench = generateBench(definition, seed);
  const plate = brief(bench);
  const { dial, firingOrder, specification } = plate;
  const skips = (step: NonNullable<ValveHabits['leavesOut']>[number]) => habits.leavesOut?.includes(step);
  const hands = handsOn<'valve-lift'>(bench);
  const rock = (way: 'up' | 'down') => hands.does({ type: 'rock-rocker', way });
  const measure = ({ cylinder, valve }: ValveName, at: ValvePlace): number => {
    hands.does({ type: 'move', cylinder, valve, at });
    if (at === 'rocker') {
      rock('down');
      if (!skips('feel') && hands.heard('springy-stop')) hands.does({ type: 'pump-up' });
      rock('up');
    }
    const { upper } = specification[valve];
    const over = convertLength(upper, specification.unit, dial.unit) + convertLength(1.27, 'mm', dial.unit);
    const deep = habits.retainerTurns ?? over / dial.rangePerTurn + 0.5;
    const { retainerTurns: _, ...setting } = habits;
    const leavesOut = (habits.leavesOut ?? []).filter((step) => step !== 'lash' && step !== 'feel');
    // A rocker may have millimetres of play.
    const loose = convertLength(2.5, 'mm', dial.unit) / dial.rangePerTurn + 0.25;
    const preloadTurns = { pushrod: 0.5, retainer: deep, rocker: loose }[at];
    setUp(hands.does, { ...setting, leavesOut, preloadTurns })();
    if (at === 'rocker') {
      if (!skips('lash')) rock('down');
      const play = Math.abs(hands.reads());
      if (!skips('lash') && !habits.rocksDownOnly) rock('up');
      return play;
    }
    const way = at === 'retainer' ? -1 : 1;
    const whole = habits.barsDeg ?? 720;
    const first = skips('return') ? whole - 100 : whole;
    const seen = hands.does({ type: 'bar', degrees: first }).map(({ graduations }) => way * graduations);
    return Math.max(0, ...seen);
  };
  const valves = plate.valves.map((name): WrittenValve => {
    const there = firingTdcDeg(firingOrder, name.cylinder) + (habits.zeroAtDeg ?? 0);
    const ahead = (there - hands.sees().crankDeg + 1440) % 720;
    const toZero = () => hands.does({ type: 'bar', degrees: ahead });
    toZero();
    const read = (place: ValvePlace) => (Math.round(2 * measure(name, place)) / 2) * dial.graduation;
    const lash = read('rocker');
    const lobeLift = read('pushrod');
    if (skips('return')) hands.does({ type: 'bar', degrees: 100 });
    const lift = read('retainer');
    if (habits.twice) read('retainer');
    return writtenValve(plate, name, { lobeLift, valveLift: lift, lash });
  });
  return { bench, actions: hands.actions, sheet: { valves } };
}

export interface ReadLengths {
  readonly lobeLift: number;
  readonly valveLift: number;
  readonly lash: number;
}

/** A line of the sheet worked out from lengths in the dial's unit without a slip. */
export function writtenValve(
  { specification, dial }: ValveBrief,
  { cylinder, valve }: ValveName,
  lengths: ReadLengths,
): WrittenValve {
  const { lobeLift, valveLift, lash } = lengths;
  const ratio = lobeLift > 0 ? Math.round(100 * rockerRatio(valveLift, lash, lobeLift)) / 100 : null;
  const { lower, upper } = specification[valve];
  const inUnit = convertLength(valveLift, dial.unit, specification.unit);
  const { verdict } = judge(inUnit, null, { lower, upper }, 'simple');
  return { cylinder, valve, ...lengths, ratio, verdict, next: nextFor(verdict) };
}

export type { ValveSheet };
