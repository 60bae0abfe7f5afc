import {
  type ActionOf,
  act,
  type BacklashSheet,
  type BenchOf,
  brief,
  convertLength,
  type DefinitionOf,
  type EndPlaySheet,
  type GaugeAction,
  generateBench,
  graduationsPerTurn,
  judgeBacklash,
  judgeLiner,
  judgeStep,
  type KindName,
  type LinerSheet,
  largestStep,
  lookAt,
  type RunOutSheet,
  type SetLimits,
  type SheetOf,
  startBench,
  totalReading,
  type ViewOf,
  type WrittenRunOut,
} from '../../server/engine/index.ts';

/** Kinds with a gauge of their own; fault finding works on a cam-lift engine, torque has none. */
export type GaugedKind = Exclude<KindName, 'cam-lift' | 'fault-finding' | 'torque-adapter'>;

/** A whole attempt as an observer left it. */
export interface GaugedAttempt<K extends GaugedKind> {
  readonly bench: BenchOf<K>;
  readonly actions: readonly ActionOf<K>[];
  readonly sheet: SheetOf<K>;
}

/** Steps left out or done badly, for the remarks they bring. */
export interface GaugedHabits {
  readonly leavesOut?: readonly ('wipe' | 'align' | 'tip' | 'clamp' | 'push' | 'hold' | 'press' | 'return')[];
  readonly effort?: number;
  /** Pries or rocks nothing before the zero. */
  readonly zeroAnywhere?: boolean;
  readonly preloadTurns?: number;
  readonly turnsOnly?: number;
  readonly teethOnly?: number;
  readonly zeroOnLiner?: boolean;
}

/** Kinds whose one gauge is on the bench from the start. */
type OneGauge = Exclude<GaugedKind, 'dial-reading'>;

/** The only way to a bench: does actions, remembers them, and counts the pointer on over whole turns from the last zero. */
export function handsOn<K extends OneGauge>(found: BenchOf<K>) {
  const bench = found as BenchOf<OneGauge>;
  const perTurn = graduationsPerTurn(bench.dial);
  const actions: ActionOf<K>[] = [];
  let state = startBench(bench);
  let said: readonly string[] = [];
  let last = lookAt(bench, state).sample.pointer;
  let count = 0;
  const way = (pointer: number) => ((pointer - last + 1.5 * perTurn) % perTurn) - perTurn / 2;
  return {
    actions,
    /** Graduations at each sample, and where the work stood. */
    does: (action: ActionOf<K>): { graduations: number; workDeg: number | null }[] => {
      const done = act(bench, state, action as ActionOf<OneGauge>);
      state = done.state;
      actions.push(action);
      const counted = done.seen.samples.map(({ pointer, workDeg }) => {
        count += way(pointer);
        last = pointer;
        return { graduations: count, workDeg };
      });
      said = done.seen.said.map(({ code }) => code);
      if (said.includes('bezel-at-zero')) {
        last = 0;
        count = 0;
      }
      return counted;
    },
    /** The pointer to half a graduation, as an eye reads it. */
    reads: () => Math.round(2 * count) / 2,
    /** Was this perceived of the last action? */
    heard: (code: string) => said.includes(code),
    sees: () => lookAt(bench, state) as unknown as ViewOf<K>,
  };
}

/** Wipes, sets the indicator down, lines it up, tries the tip; then zero and clamp where the caller wants them. */
export function setUp(
  does: (action: GaugeAction) => void,
  { leavesOut = [], preloadTurns = 0.5 }: GaugedHabits,
) {
  const skips = (step: NonNullable<GaugedHabits['leavesOut']>[number]) => leavesOut.includes(step);
  if (!skips('wipe')) does({ type: 'wipe' });
  does({ type: 'set-indicator', turns: preloadTurns });
  const handle = (type: 'align' | 'lift-tip' | 'unclamp') => does({ type });
  if (!skips('align')) handle('align');
  if (!skips('tip')) for (let n = 0; n < 3; n += 1) handle('lift-tip');
  return () => {
    handle('unclamp');
    does({ type: 'zero' });
    if (!skips('clamp')) does({ type: 'clamp' });
  };
}

export const nextFor = (verdict: string) => (verdict === 'inside' ? 'return-to-service' : 'measure-again');

function within(length: number, { lower, upper, unit }: SetLimits, dialUnit: 'in' | 'mm') {
  const inUnit = convertLength(length, dialUnit, unit);
  if (lower !== null && inUnit < lower - 1e-9) return 'below';
  return upper !== null && inUnit > upper + 1e-9 ? 'above' : 'inside';
}

export function observeEndPlay(
  definition: DefinitionOf<'end-play'>,
  seed: string | number,
  habits: GaugedHabits = {},
): GaugedAttempt<'end-play'> {
  const bench = generateBench(definition, seed);
  const { dial, specification } = brief(bench);
  const hands = handsOn<'end-play'>(bench);
  const pry = (way: 'front' | 'rear') =>
    hands.does({ type: 'pry', way, effort: habits.effort ?? 0.9, rock: true });
  if (!habits.zeroAnywhere) pry('rear');
  const zero = setUp(hands.does, habits);
  if (!habits.zeroAnywhere) pry('rear');
  zero();
  const readings = [1, 2].map(() => {
    pry('front');
    const read = hands.reads() * dial.graduation;
    if (!habits.leavesOut?.includes('return')) pry('rear');
    return read;
  });
  const endPlay = readings.reduce((sum, one) => sum + one, 0) / 2;
  const verdict = within(endPlay, specification, dial.unit);
  const sheet: EndPlaySheet = { readings, endPlay, verdict, next: nextFor(verdict) };
  return { bench, actions: hands.actions, sheet };
}

export function observeRunOut(
  definition: DefinitionOf<'run-out'>,
  seed: string | number,
  habits: GaugedHabits = {},
): GaugedAttempt<'run-out'> {
  const bench = generateBench(definition, seed);
  const plate = brief(bench);
  const { dial, specification, limitOn } = plate;
  const hands = handsOn<'run-out'>(bench);
  const places = plate.places.map((place, index): WrittenRunOut => {
    hands.does({ type: 'move', place });
    const pushes = place === 'face' && !habits.leavesOut?.includes('push');
    if (pushes) hands.does({ type: 'push' });
    setUp(hands.does, habits)();
    const seen: { graduations: number; workDeg: number | null }[] = [];
    const step = place === 'face' ? 15 : 30;
    for (let deg = 0; deg < (habits.turnsOnly ?? 360); deg += step) {
      const turned = hands.does({ type: 'turn', degrees: step });
      const pushed = pushes ? hands.does({ type: 'push' }) : [];
      seen.push(...(pushes ? pushed.slice(-1) : turned));
    }
    const read = (value: number) => (Math.round(2 * value) / 2) * dial.graduation;
    const values = seen.map(({ graduations }) => graduations);
    const [highest, lowest] = [read(Math.max(...values)), read(Math.min(...values))];
    const tir = totalReading([highest, lowest]);
    const high = seen.find(({ graduations }) => graduations === Math.max(...values));
    const verdict = within(limitOn === 'tir' ? tir : tir / 2, specification, dial.unit);
    return {
      ...{ item: index + 1, highest, lowest, tir, eccentricity: place === 'rim' ? tir / 2 : null },
      ...{ highSpotDeg: high?.workDeg ?? null, verdict, next: nextFor(verdict) },
    };
  });
  const sheet: RunOutSheet = { places };
  return { bench, actions: hands.actions, sheet };
}

export function observeBacklash(
  definition: DefinitionOf<'backlash'>,
  seed: string | number,
  habits: GaugedHabits = {},
): GaugedAttempt<'backlash'> {
  const bench = generateBench(definition, seed);
  const { dial, specification, spread: spreadLimit, teeth: count } = brief(bench);
  const hands = handsOn<'backlash'>(bench);
  const rock = (way: 1 | -1) => hands.does({ type: 'rock', way, effort: habits.effort ?? 0.8 });
  const teeth = Array.from({ length: habits.teethOnly ?? count }, (_, index) => {
    hands.does({ type: 'turn-to', tooth: index + 1 });
    if (!habits.leavesOut?.includes('hold')) hands.does({ type: 'hold', on: true });
    const zero = setUp(hands.does, habits);
    if (!habits.zeroAnywhere) rock(-1);
    zero();
    rock(1);
    const read = hands.reads() * dial.graduation;
    if (!habits.leavesOut?.includes('return')) rock(-1);
    return read;
  });
  const [smallest, largest] = [Math.min(...teeth), Math.max(...teeth)];
  const verdict = judgeBacklash(teeth, specification, spreadLimit, dial);
  const sheet: BacklashSheet = {
    ...{ teeth, smallest, largest, spread: largest - smallest },
    ...{ verdict, next: nextFor(verdict) },
  };
  return { bench, actions: hands.actions, sheet };
}

export function observeLiners(
  definition: DefinitionOf<'liner-protrusion'>,
  seed: string | number,
  habits: GaugedHabits = {},
): GaugedAttempt<'liner-protrusion'> {
  const bench = generateBench(definition, seed);
  const { dial, limits, liners: count, points } = brief(bench);
  const hands = handsOn<'liner-protrusion'>(bench);
  const liners = Array.from({ length: count }, (_, index) => {
    const liner = index + 1;
    if (!habits.leavesOut?.includes('press')) hands.does({ type: 'press-liner', liner });
    hands.does(
      habits.zeroOnLiner
        ? { type: 'place', on: 'liner', liner, point: 1 }
        : { type: 'place', on: 'deck', liner },
    );
    setUp(hands.does, habits)();
    const read = Array.from({ length: points }, (_unused, at) => {
      hands.does({ type: 'place', on: 'liner', liner, point: at + 1 });
      return hands.reads() * dial.graduation;
    });
    if (!habits.leavesOut?.includes('return')) hands.does({ type: 'place', on: 'deck', liner });
    const mean = read.reduce((sum, one) => sum + one, 0) / read.length;
    const verdict = judgeLiner(read, limits, dial);
    return {
      liner,
      points: read,
      mean,
      within: totalReading(read),
      verdict,
      next: nextFor(verdict),
    } as const;
  });
  const between = largestStep(liners.map(({ mean }) => mean));
  const betweenVerdict = judgeStep(between ?? 0, limits, dial);
  const sheet: LinerSheet = { liners, between, betweenVerdict, betweenNext: nextFor(betweenVerdict) };
  return { bench, actions: hands.actions, sheet };
}
