import {
  act,
  type CamLiftBench,
  type CamLiftState,
  CYCLE_DEG,
  displacementMm,
  firingTdcDeg,
  generateBench,
  startBench,
} from '../../server/engine/index.ts';

/** The four strokes, from a cylinder's firing top dead centre on. Nominal: valves open and shut earlier and later than this. */
export const STROKES = ['power', 'exhaust', 'intake', 'compression'] as const;
export type Stroke = (typeof STROKES)[number];

/** The cycle of an engine that is barred, and how it stands. */
export interface Cycle {
  readonly bench: CamLiftBench;
  readonly state: CamLiftState;
  /** From cylinder 1's firing top dead centre, 0 to 720. */
  readonly crankDeg: number;
  readonly effort: number;
}

export function startCycle(cylinders: 4 | 6): Cycle {
  const made = generateBench({ kind: 'cam-lift', cylinders, positions: [1] }, 'figure') as CamLiftBench;
  const bench = { ...made, startCrankDeg: 0 };
  return { bench, state: startBench(bench), crankDeg: 0, effort: 0 };
}

/** Bars on or back to a place in the cycle. */
export function barCycle(cycle: Cycle, toDeg: number): Cycle {
  const degrees = toDeg - cycle.crankDeg;
  if (degrees === 0) return cycle;
  const { state, seen } = act(cycle.bench, cycle.state, { type: 'bar', degrees });
  return { ...cycle, state, crankDeg: toDeg, effort: seen.samples.at(-1)?.effort ?? 0 };
}

/** Where in its own cycle a cylinder is: 0 to 720 from its firing top dead centre. */
export function ownDeg({ bench, crankDeg }: Cycle, cylinder: number): number {
  return (crankDeg - firingTdcDeg(bench.firingOrder, cylinder) + CYCLE_DEG * 2) % CYCLE_DEG;
}

export function strokeAt(deg: number): Stroke {
  return STROKES[Math.floor(deg / 180) % 4] ?? 'power';
}

/** Lift of a cylinder's injection lobe at a place of the cycle, as a share of the highest. */
export function lobeShare({ bench }: Cycle, cylinder: number, crankDeg: number): number {
  const truth = bench.lobes[cylinder - 1];
  if (truth === undefined) return 0;
  const { lobe, highestMm } = truth;
  return displacementMm(lobe, (crankDeg - lobe.noseCrankDeg) / 2) / highestMm;
}

/** Lobes that lift their tappet now; and the one whose nose comes next, with the crank degrees to it. */
export function lobesNow(cycle: Cycle): {
  readonly lifting: readonly number[];
  readonly next: number;
  readonly inDeg: number;
} {
  const cylinders = cycle.bench.firingOrder;
  const toNose = (cylinder: number) =>
    ((cycle.bench.lobes[cylinder - 1]?.lobe.noseCrankDeg ?? 0) - cycle.crankDeg + CYCLE_DEG * 2) % CYCLE_DEG;
  const next = cylinders.reduce((best, one) => (toNose(one) < toNose(best) ? one : best));
  const lifting = cylinders.filter((cylinder) => lobeShare(cycle, cylinder, cycle.crankDeg) > 0.02);
  return { lifting, next, inDeg: toNose(next) };
}
