import {
  act,
  brief,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftSeen,
  convertLength,
  displacementMm,
  type SeenAction,
  type SetUpFault,
  startBench,
  toMm,
} from '../../../server/engine/index.ts';
import type { Chance } from '../../../server/engine/random.ts';

/** How a simulated student goes about it. */
export interface Habits {
  readonly name: string;
  /** Looks along the bore; tightens arm, base and rod; sets right what is found. */
  readonly looks: boolean;
  readonly tightens: boolean;
  readonly setsRight: boolean;
  /** Presses on the rod: before barring and wherever the bar rests, only at the end of a round, or never. */
  readonly presses: 'often' | 'after' | 'never';
  readonly lifts: number;
  readonly rounds: number;
  /** Degrees of crank at a time. */
  readonly barsDeg: number;
}

export const HABITS: readonly Habits[] = [
  {
    name: 'careful',
    looks: true,
    tightens: true,
    setsRight: true,
    presses: 'often',
    lifts: 3,
    rounds: 2,
    barsDeg: 60,
  },
  {
    name: 'sees, leaves it',
    looks: true,
    tightens: false,
    setsRight: false,
    presses: 'after',
    lifts: 3,
    rounds: 2,
    barsDeg: 90,
  },
  {
    name: 'never looks',
    looks: false,
    tightens: false,
    setsRight: false,
    presses: 'often',
    lifts: 3,
    rounds: 2,
    barsDeg: 60,
  },
  {
    name: 'never presses',
    looks: true,
    tightens: false,
    setsRight: true,
    presses: 'never',
    lifts: 3,
    rounds: 2,
    barsDeg: 120,
  },
  {
    name: 'hurried',
    looks: true,
    tightens: false,
    setsRight: false,
    presses: 'never',
    lifts: 1,
    rounds: 2,
    barsDeg: 360,
  },
  {
    name: 'bars long',
    looks: true,
    tightens: false,
    setsRight: false,
    presses: 'after',
    lifts: 2,
    rounds: 3,
    barsDeg: 45,
  },
];

/** Made by the student: none of the bench's doing. */
export interface Made {
  readonly fault: SetUpFault | 'backed-up-on-base' | null;
  /** 0 to 1: how much of it. */
  readonly size: number;
}

const HALF_ROUND = 360;

/**
 * Works at one pump position. The student knows where the base circle is, as one who has seen the lobe go round before: that much is read
 * off the bench, and nothing else.
 */
export function workAt(
  bench: CamLiftBench,
  positions: readonly number[],
  habits: Habits,
  made: Made,
  chance: Chance,
) {
  const log: SeenAction[] = [];
  let state = startBench(bench);
  const does = (action: CamLiftAction): CamLiftSeen => {
    const result = act(bench, state, action);
    state = result.state;
    log.push({ action, seen: result.seen });
    return result.seen;
  };
  const barTo = (fromNoseDeg: number, position: number) => {
    const nose = bench.lobes[position - 1]?.lobe.noseCrankDeg ?? 0;
    const onDeg = (((nose + fromNoseDeg - state.crankDeg) % 720) + 720) % 720;
    if (onDeg > 0) does({ type: 'bar', degrees: onDeg, speed: 60 });
  };
  for (const [index, position] of positions.entries())
    workOne(bench, position, habits, index === 0 ? made : { fault: null, size: 0 }, { does, barTo, chance });
  return { log, plate: brief(bench) };
}

interface Hands {
  readonly does: (action: CamLiftAction) => CamLiftSeen;
  readonly barTo: (fromNoseDeg: number, position: number) => void;
  readonly chance: Chance;
}

function workOne(
  bench: CamLiftBench,
  position: number,
  habits: Habits,
  made: Made,
  { does, barTo, chance }: Hands,
): void {
  const says = (seen: CamLiftSeen, code: string) => seen.said.some((one) => one.code === code);
  const base = restPlace(bench, position, chance.uniform(-20, 20));
  does({ type: 'move', position });
  const seated = does({ type: 'seat' });
  if (habits.setsRight && says(seated, 'far-up')) {
    does({ type: 'turn-tappet' });
    does({ type: 'seat' });
  }
  if (habits.setsRight && says(seated, 'dull-stop')) does({ type: 'seat' });
  barTo(
    made.fault === 'no-preload' ? placeAt(bench, position, 0.03 + 0.3 * made.size, chance.chance(0.5)) : base,
    position,
  );
  does({ type: 'preload', turns: preloadTurns(bench, position, made) });
  if (habits.looks && !says(does({ type: 'align' }), 'stands-square') && habits.setsRight)
    does({ type: 'align', square: true });
  if (habits.tightens) for (const part of ['arm', 'base', 'rod'] as const) does({ type: 'tighten', part });
  if (habits.presses === 'often') does({ type: 'press' });
  barTo(zeroPlace(bench, position, made, base, chance), position);
  for (let n = 0; n < habits.lifts; n += 1) does({ type: 'lift-tip' });
  does({ type: 'zero' });
  if (made.fault !== 'bezel-not-clamped') does({ type: 'clamp' });
  for (let round = 0; round < habits.rounds; round += 1) {
    for (let deg = 0; deg < 720; deg += habits.barsDeg) {
      does({ type: 'bar', degrees: habits.barsDeg, speed: 60 });
      if (habits.presses === 'often') does({ type: 'press' });
    }
    if (habits.presses === 'after') does({ type: 'press' });
    if (round === 0) backsUp(bench, position, made, base, { does, barTo, chance });
  }
}

function backsUp(
  bench: CamLiftBench,
  position: number,
  made: Made,
  base: number,
  { does, barTo }: Hands,
): void {
  if (made.fault !== 'backed-up' && made.fault !== 'backed-up-on-base') return;
  if (made.fault === 'backed-up') barTo(placeAt(bench, position, 0.3 + 0.4 * made.size, true), position);
  const degrees = 8 + Math.round(15 * made.size);
  does({ type: 'bar', degrees: -degrees });
  does({ type: 'bar', degrees });
  barTo(base, position);
}

function preloadTurns({ dial, lobes }: CamLiftBench, position: number, { fault, size }: Made): number {
  if (fault === 'no-preload') return 0;
  const { highestMm = 0, lowestMm = 0 } = lobes[position - 1] ?? {};
  const lift = convertLength(highestMm - lowestMm, 'mm', dial.unit);
  const room = (dial.travel - lift) / dial.rangePerTurn;
  if (fault !== 'travel-ran-out') return Math.min(0.5, room / 2);
  return Math.min(room + 0.1 + 0.4 * size, dial.travel / dial.rangePerTurn);
}

function zeroPlace(
  bench: CamLiftBench,
  position: number,
  { fault, size }: Made,
  base: number,
  chance: Chance,
): number {
  if (fault === 'zero-on-nose') return 2 * (size - 0.5) * 10;
  if (fault === 'zero-on-ramp')
    return placeAt(bench, position, 0.008 + 0.8 * size * size, chance.chance(0.5));
  return base;
}

/** A place on the base circle away from deposits: about opposite the nose, where the lobe stands within half a graduation of its lowest for 60° of crank. */
function restPlace({ lobes, dial }: CamLiftBench, position: number, from: number): number {
  const truth = lobes[position - 1];
  if (truth === undefined) throw new Error(`no lobe at ${position}`);
  const most = truth.lowestMm + 0.5 * toMm(dial.graduation, dial.unit);
  for (let off = 0; off < 180; off += 2) {
    for (const deg of [HALF_ROUND + from + off, HALF_ROUND + from - off]) {
      const heights = Array.from({ length: 31 }, (_, n) => displacementMm(truth.lobe, deg / 2 + n));
      if (Math.max(...heights) <= most) return deg;
    }
  }
  return HALF_ROUND + from;
}

/** Crank degrees from the nose at which the lobe stands at a share of its lift, on the rise or on the fall. */
function placeAt({ lobes }: CamLiftBench, position: number, share: number, rising: boolean): number {
  const truth = lobes[position - 1];
  if (truth === undefined) throw new Error(`no lobe at ${position}`);
  const wanted = truth.lowestMm + share * (truth.highestMm - truth.lowestMm);
  const way = rising ? -1 : 1;
  let deg = 0;
  while (deg < 340 && displacementMm(truth.lobe, (way * deg) / 2) > wanted) deg += 0.5;
  return way * deg;
}
